import type { HeardNote, Listening } from '../listen/index.ts';
import { type DecodedSound, decodeSound, encodeMp3, encodeWav, stretchSound } from '../media/index.ts';
import { writeWhole } from '../store/index.ts';
import { complain, type Io } from './io.ts';
import { progressOn } from './progress.ts';
import { pathFrom } from './readTunes.ts';

/** Notes of a lone fiddle are clear: nine in ten above this. Ours: with guitar or drones the tenth lies below 0.65. */
const LONE = 0.7;

const isLone = (notes: readonly HeardNote[]): boolean => {
  const clarity = notes.map((n) => n.clarity).sort((a, b) => a - b);
  return clarity.length > 0 && (clarity[Math.floor(clarity.length / 10)] ?? 0) >= LONE;
};

const bytesFor = async (sound: DecodedSound, out: string, signal: AbortSignal): Promise<Uint8Array> => {
  const [left = new Float32Array(0), right = left] = sound.channels;
  const stereo = { rate: sound.rate, left, right };
  return /\.mp3$/i.test(out) ? encodeMp3(stereo, {}, { signal }) : encodeWav(stereo);
};

/** Writes the recording at another speed, at its own pitch, retuned to A = 440 Hz where its tuning is known. */
export const slowDown = async (
  bytes: Uint8Array,
  listening: Listening,
  wanted: { readonly speed: number; readonly out: string },
  io: Io,
): Promise<void> => {
  const sound = await decodeSound(bytes, { channels: 'apart', signal: io.signal });
  if (sound.kind === 'problem') {
    complain(io, sound.message);
    return;
  }
  const progress = progressOn(io);
  const onsets = isLone(listening.notes) ? { onsets: listening.notes.map((n) => n.start) } : {};
  const slow = await stretchSound(sound, {
    speed: wanted.speed,
    cents: -(listening.tuning?.cents ?? 0),
    told: (share) => progress.show(share, 'slowing down'),
    signal: io.signal,
    ...onsets,
  });
  progress.clear();
  await writeWhole(pathFrom(io, wanted.out), await bytesFor(slow, wanted.out, io.signal));
};
