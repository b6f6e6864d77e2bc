// The transport across the foot of the page: playing, place, tempo, clock, ways out, masters.

import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import { sectionAt } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { Editable } from '../access/Editable.tsx'
import { Sound } from '../audio/Sound.tsx'
import { useChoice } from '../document/choice.ts'
import { stepZoom, usePreferences, zooms } from '../document/preferences.ts'
import { useSession } from '../document/session.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { OutputState } from '../output/OutputState.tsx'
import { TapButton } from '../tap/TapButton.tsx'
import { Sign } from '../ui/signs.tsx'
import { usePlayedSong } from '../version/on-chart.ts'
import { useAlarm } from './alarm.ts'
import { Blackout } from './Blackout.tsx'
import { Clock } from './Clock.tsx'
import { GrandMaster } from './GrandMaster.tsx'
import { goToStart, leaveVamp, playFromHere, playOrStop, stepBar, toggleLoop } from './moves.ts'
import { GoToBar, Position } from './Position.tsx'
import { Solo } from './Solo.tsx'
import { Tempo } from './Tempo.tsx'
import './transport.css'
import './read.css'
import './masters.css'

export function Transport({ viewed }: { viewed: ViewedSong | null }) {
  const status = useSession(s => s.status)
  const alarm = useAlarm()
  const inEngine = useSession(s => s.loaded)
  const loaded = viewed !== null && inEngine === viewed.id
  const playing = status?.playing ?? false
  const hasChosen = useChoice(s => s.cues.length > 0)
  const loop = status?.loop ?? null
  const played = usePlayedSong(viewed)
  const place = ticks((loaded && status?.position) || 0)
  const inVamp = loaded && played && sectionAt(played.timeline, place)?.vamp
  return (
    <section className="transport" aria-label="Transport">
      <div className="moves">
        <Editable>
          <button
            type="button"
            className="move"
            aria-label="To the start"
            title="To the start (Home)"
            onClick={goToStart}
          >
            <Sign name="home" />
          </button>
          <button
            type="button"
            className="move"
            aria-label="A bar back"
            title="A bar back (,)"
            onClick={() => stepBar(-1)}
          >
            <Sign name="barBack" />
          </button>
          <button
            type="button"
            className={`move play${playing ? ' on' : ''}`}
            aria-label={playing ? 'Stop' : 'Play'}
            title={viewed ? 'Space' : 'No song here yet'}
            // Before the show has come, a press would be lost without a word.
            disabled={!viewed && !playing}
            onClick={playOrStop}
          >
            <Sign name={playing ? 'halt' : 'play'} />
          </button>
          <button
            type="button"
            className="move"
            aria-label="A bar on"
            title="A bar on (.)"
            onClick={() => stepBar(1)}
          >
            <Sign name="barOn" />
          </button>
          <button
            type="button"
            className="move loop"
            aria-label={loop ? 'Loop, on: lift it' : hasChosen ? 'Loop the chosen cues' : 'Loop this section'}
            aria-pressed={loop !== null}
            title={
              loop
                ? 'Lift the loop (L)'
                : `Loop ${hasChosen ? 'the chosen cues' : 'this section'} (L); or drag along the bar numbers`
            }
            onClick={toggleLoop}
          >
            <Sign name="repeat" />
          </button>
          {hasChosen && (
            <button
              type="button"
              className="move from"
              aria-label="Play from the chosen cue"
              title="Play from the chosen cue (P)"
              onClick={playFromHere}
            >
              <Sign name="playFrom" />
            </button>
          )}
          <TapButton />
          {inVamp && (
            <button
              type="button"
              className="move vamp"
              aria-label="Leave the vamp"
              title="Leave the vamp at its next end"
              onClick={leaveVamp}
            >
              <Sign name="leave" />
            </button>
          )}
        </Editable>
        {viewed && <Sound viewed={viewed} />}
      </div>
      {viewed && <Position viewed={viewed} />}
      <Editable>
        {viewed && <GoToBar bars={viewed.timeline.sections.reduce((sum, s) => sum + s.bars, 0)} />}
      </Editable>
      <Editable>
        {alarm ? (
          <p className={alarm.calm ? 'alarm calm' : 'alarm'} role={alarm.calm ? 'status' : 'alert'}>
            <Sign name={alarm.calm ? 'specs' : 'cross'} />
            <span>
              <b>{alarm.what}</b>; {alarm.lights}
            </span>
          </p>
        ) : (
          viewed && <Tempo loaded={loaded} written={bpmAt((played ?? viewed).timeline.tempo, place)} />
        )}
        <Clock />
        <Solo viewed={viewed} />
      </Editable>
      <OutputState />
      <span className="space" />
      <Zoom />
      <GrandMaster />
      <Blackout />
    </section>
  )
}

function Zoom() {
  const zoom = usePreferences(s => s.zoom)
  const at = zooms.indexOf(zoom)
  return (
    <div className="read zoom">
      <span>Zoom</span>
      <b>
        <button
          type="button"
          className="nudge"
          aria-label="Fewer bars a line"
          aria-disabled={at === 0}
          onClick={() => stepZoom(-1)}
        >
          <Sign name="dash" />
        </button>
        <span className="value">{zoom === 'page' ? 'Fit page' : `${zoom} bars a line`}</span>
        <button
          type="button"
          className="nudge"
          aria-label="More bars a line"
          aria-disabled={at === zooms.length - 1}
          onClick={() => stepZoom(1)}
        >
          <Sign name="plus" />
        </button>
      </b>
    </div>
  )
}
