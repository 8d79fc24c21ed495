import { type StereoSound, type WavDepth, type WavInfo, writeWav } from '../signal/index.ts';
import type { SoundTags } from './soundTags.ts';

const infoOf = ({ track, cover: _, ...words }: SoundTags): WavInfo =>
  track === undefined ? words : { ...words, track: track.number };

/**
 * A WAV file, its words in the LIST INFO chunk.
 * @param depth - 16 bit unless said
 */
export const encodeWav = (sound: StereoSound, tags: SoundTags = {}, depth: WavDepth = 'int16'): Uint8Array =>
  writeWav(sound, { depth, info: infoOf(tags) });
