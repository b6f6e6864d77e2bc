// WAV files for tests: clicks at known times, and any samples written and read back (16-bit PCM).

import { random } from '../support/random.ts'

/** A RIFF/WAVE file of 16-bit PCM, one channel. */
export function waveFile(samples: Float32Array, rate: number): Buffer {
  const bytes = Buffer.alloc(44 + 2 * samples.length)
  bytes.write('RIFF', 0, 'latin1')
  bytes.writeUInt32LE(bytes.length - 8, 4)
  bytes.write('WAVEfmt ', 8, 'latin1')
  bytes.writeUInt32LE(16, 16)
  bytes.writeUInt16LE(1, 20)
  bytes.writeUInt16LE(1, 22)
  bytes.writeUInt32LE(rate, 24)
  bytes.writeUInt32LE(2 * rate, 28)
  bytes.writeUInt16LE(2, 32)
  bytes.writeUInt16LE(16, 34)
  bytes.write('data', 36, 'latin1')
  bytes.writeUInt32LE(2 * samples.length, 40)
  for (const [i, value] of samples.entries()) bytes.writeInt16LE(Math.round(value * 32_000), 44 + 2 * i)
  return bytes
}

/** A short burst of noise at each time (s), each fourth one louder; 44,100 Hz. */
export function clicks(times: readonly number[], seconds: number): Float32Array {
  const samples = new Float32Array(Math.round(seconds * 44_100))
  const next = random(5)
  for (const [i, time] of times.entries()) {
    const from = Math.round(time * 44_100)
    for (let j = 0; j < 2500 && from + j < samples.length; j++) {
      samples[from + j]! += Math.exp(-j / 500) * (2 * next() - 1) * (i % 4 === 0 ? 0.9 : 0.5)
    }
  }
  return samples
}
