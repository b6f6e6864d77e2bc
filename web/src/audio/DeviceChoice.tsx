// The choice of the audio device that score and click sound from, on this browser.

import { usePreferences } from '../document/preferences.ts'
import { canChooseDevice, chooseDevice, findDevices, useAudioDevices } from './device.ts'

export function DeviceChoice() {
  const chosen = usePreferences(s => s.audioDevice)
  const { devices, says } = useAudioDevices()
  if (!canChooseDevice()) {
    return (
      <p className="gig-choice">
        <span>Sound to</span>
        <small>
          This browser plays to the system’s own output, and lets no page choose another; choose it in the
          system, or use a browser that can (Chrome and Edge do, on this computer’s own address).
        </small>
      </p>
    )
  }
  const all = [...devices, ...(chosen && !devices.some(one => one.id === chosen.id) ? [chosen] : [])]
  return (
    <div className="gig-choice">
      <label>
        <span>Sound to</span>
        <select
          value={chosen?.id ?? ''}
          onChange={e => chooseDevice(all.find(one => one.id === e.target.value) ?? null)}
        >
          <option value="">The system’s own output</option>
          {all.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <button
        type="button"
        className="btn outline"
        title="The browser names outputs only to a page that may use the microphone; nothing is recorded"
        onClick={() => void findDevices()}
      >
        Find outputs
      </button>
      {says && <small role="status">{says}</small>}
    </div>
  )
}
