// The supply and the decoder of a box, and what they may carry.

import type { Box } from '@glowchart/shared/rig/schema.ts'
import { changeBox } from '../build/change.ts'
import { amps, watts } from '../build/words.ts'
import { Measure } from '../Measure.tsx'
import { Pick } from '../Pick.tsx'

interface Props {
  id: string
  box: Box
}

export function SupplyGroup({ id, box }: Props) {
  const { supply } = box
  const set = (what: string, fields: Partial<Box['supply']>) =>
    changeBox(id, box, what, { supply: { ...supply, ...fields } })
  const most = supply.volts * supply.amps
  return (
    <section className="group" aria-labelledby="supply-title">
      <h3 id="supply-title">Supply</h3>
      <div className="row">
        <Measure
          label="Volts"
          unit="V"
          least={3}
          most={48}
          value={supply.volts}
          onChange={volts => set('volts', { volts })}
        />
        <Measure
          label="Amps"
          unit="A"
          least={0.1}
          most={500}
          value={supply.amps}
          onChange={a => set('amps of the supply', { amps: a })}
        />
        <Measure
          label="Loaded for long"
          unit="%"
          least={0}
          most={100}
          value={supply.continuousShare * 100}
          onChange={percent => set('continuous share', { continuousShare: percent / 100 })}
        />
        <Measure
          label="Efficiency"
          unit="%"
          least={30}
          most={100}
          value={supply.efficiency * 100}
          onChange={percent => set('efficiency', { efficiency: percent / 100 })}
        />
        <Pick
          label="Mains"
          value={`${supply.mainsVolts}`}
          options={[
            ['230', '230 V'],
            ['120', '120 V'],
            ['100', '100 V'],
          ]}
          onChange={volts => set('mains', { mainsVolts: Number(volts) as Box['supply']['mainsVolts'] })}
        />
      </div>
      <p className="says">
        For long at most <b>{amps(supply.amps * supply.continuousShare)}</b>. At its full {watts(most)} it
        takes <b>{amps(most / supply.efficiency / supply.mainsVolts)}</b> from the mains.
      </p>
      <p className="note">
        80 % for long is common practice, no source. Mains wiring and supplies: local electrical code and a
        licensed electrician come first.
      </p>
    </section>
  )
}

export function DecoderGroup({ id, box }: Props) {
  const { decoder, sockets } = box
  const set = (what: string, fields: Partial<Box['decoder']>) =>
    changeBox(id, box, what, { decoder: { ...decoder, ...fields } })
  const used = sockets.reduce((sum, socket) => sum + socket.channels, 0)
  const { ampsInAll: _gone, ...rest } = decoder
  return (
    <section className="group" aria-labelledby="decoder-title">
      <h3 id="decoder-title">Decoder</h3>
      <div className="row">
        <Measure
          label="Channels"
          whole
          least={1}
          most={512}
          value={decoder.channels}
          onChange={channels => set('channels of the decoder', { channels })}
        />
        <Pick
          label="Bits a channel"
          value={decoder.bits === 8 ? '8' : '16'}
          options={[
            ['8', '8'],
            ['16', '16'],
          ]}
          onChange={bits => set('bits of the decoder', { bits: bits === '8' ? 8 : 16 })}
        />
        <Measure
          label="A channel carries"
          unit="A"
          least={0.1}
          most={100}
          value={decoder.ampsPerChannel}
          onChange={ampsPerChannel => set('amps a channel', { ampsPerChannel })}
        />
        <Measure
          label="All together"
          unit="A"
          least={0.1}
          most={500}
          value={decoder.ampsInAll}
          onChange={ampsInAll => set('amps of the decoder', { ampsInAll })}
          onEmpty={() => changeBox(id, box, 'amps of the decoder', { decoder: rest })}
        />
      </div>
      <p className={used > decoder.channels ? 'says stop' : 'says'}>
        Its sockets take {used} of {decoder.channels} channels
        {used > decoder.channels && ': the last ones are not driven. Give it more channels, or fewer sockets'}
        .
      </p>
    </section>
  )
}
