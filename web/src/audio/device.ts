// Which audio device this browser plays score and click to, where the browser lets a page choose.

import { create } from 'zustand'
import { usePreferences } from '../document/preferences.ts'
import { onAudioContext } from './context.ts'

/** What not every browser has (W3C Audio Output Devices API; Web Audio API `setSinkId`). */
type Choosing = AudioContext & { setSinkId?: (id: string) => Promise<void> }
type Devices = MediaDevices & { selectAudioOutput?: () => Promise<MediaDeviceInfo> }

/** An output by the browser's id for it; '' is the system's own. */
export interface AudioDevice {
  readonly id: string
  readonly name: string
}

interface State {
  /** Those that the browser has named. */
  readonly devices: readonly AudioDevice[]
  /** Why there is nothing to choose, or the chosen one does not sound; empty when all is well. */
  readonly says: string
}

export const useAudioDevices = create<State>(() => ({ devices: [], says: '' }))

export const canChooseDevice = (): boolean =>
  typeof AudioContext !== 'undefined' && 'setSinkId' in AudioContext.prototype && isSecureContext

/**
 * Asks the browser for its outputs. It names them only to a page that may hear the microphone, or lets the person
 * pick one itself; nothing is recorded.
 */
export async function findDevices(): Promise<void> {
  const devices: Devices = navigator.mediaDevices
  try {
    if (devices.selectAudioOutput) {
      const { deviceId, label } = await devices.selectAudioOutput()
      chooseDevice({ id: deviceId, name: label })
      return
    }
    let outputs = await outputsOf(devices)
    if (outputs.every(one => one.label === '')) {
      const stream = await devices.getUserMedia({ audio: true })
      for (const track of stream.getTracks()) track.stop()
      outputs = await outputsOf(devices)
    }
    const named = outputs.filter(one => one.deviceId !== '' && one.deviceId !== 'default')
    useAudioDevices.setState({
      devices: named.map(({ deviceId, label }) => ({
        id: deviceId,
        name: label || 'An output without a name',
      })),
      says: named.length === 0 ? 'The browser names no other output.' : '',
    })
  } catch (error) {
    useAudioDevices.setState({ says: `The browser does not name its outputs: ${(error as Error).message}` })
  }
}

const outputsOf = async (devices: MediaDevices): Promise<MediaDeviceInfo[]> =>
  (await devices.enumerateDevices()).filter(one => one.kind === 'audiooutput')

/** Plays there from now on, on this browser also the next time; null: the system's own output. */
export function chooseDevice(device: AudioDevice | null): void {
  usePreferences.setState({ audioDevice: device })
}

/** Keeps the page's sound on the chosen device. Returns what ends it. */
export function playToChosenDevice(): () => void {
  let context: Choosing | null = null
  const apply = (): void => {
    const device = usePreferences.getState().audioDevice
    if (!context?.setSinkId) return
    context.setSinkId(device?.id ?? '').then(
      () => useAudioDevices.setState({ says: '' }),
      () => {
        // Unplugged, or another browser profile's id: better heard at the wrong place than not at all.
        useAudioDevices.setState({
          says: `${device?.name ?? 'The output'} cannot be opened; sound goes to the system's own output.`,
        })
      },
    )
  }
  const endContext = onAudioContext(made => {
    context = made
    if (usePreferences.getState().audioDevice) apply()
  })
  const endChoice = usePreferences.subscribe((now, before) => {
    if (now.audioDevice !== before.audioDevice) apply()
  })
  navigator.mediaDevices?.addEventListener('devicechange', apply)
  return () => {
    endContext()
    endChoice()
    navigator.mediaDevices?.removeEventListener('devicechange', apply)
  }
}
