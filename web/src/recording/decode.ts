// Decodes a recording into samples, at the rate that beats are found at and waveforms are drawn from.

import { CodedError } from '@glowchart/shared/errors.ts'

/** Samples a second of every decoded recording. */
export const DECODED_RATE = 44_100

/** @throws CodedError `audio.empty`, `audio.damaged` */
export async function decode(bytes: ArrayBuffer, where: string): Promise<AudioBuffer> {
  if (bytes.byteLength === 0) throw new CodedError('audio.empty', 'there is nothing in it', where)
  const decoded = await new OfflineAudioContext(2, 1, DECODED_RATE).decodeAudioData(bytes).catch(() => null)
  if (!decoded || decoded.duration < 0.01) {
    throw new CodedError('audio.damaged', 'it cannot be decoded as wav, mp3, flac or ogg', where)
  }
  return decoded
}

/** All channels in one. */
export function mono(buffer: AudioBuffer): Float32Array<ArrayBuffer> {
  const samples = new Float32Array(buffer.length)
  const share = 1 / buffer.numberOfChannels
  for (let channel = 0; channel < buffer.numberOfChannels; channel++) {
    const data = buffer.getChannelData(channel)
    for (let i = 0; i < samples.length; i++) samples[i]! += data[i]! * share
  }
  return samples
}
