import { registerMp3Encoder } from '@mediabunny/mp3-encoder';
import { Mp3OutputFormat } from 'mediabunny';
import { channelsOf, type Sound } from '../signal/index.ts';
import { type Chunk, encodePackets } from './encodePackets.ts';
import { withGaplessInfo } from './gapless.ts';
import type { EncodingWatch, SoundTags } from './soundTags.ts';

/**
 * Bits a second that we encode at, and the factor by which the encoder turns everything down at each: undone here, so
 * that a track is as loud decoded as it was settled.
 * @see Source: measured with a 997 Hz sine through @mediabunny/mp3-encoder 1.61.0 and FFmpeg's decoder
 */
const TURNED_DOWN = { 96000: 0.95, 128000: 0.95, 160000: 0.95, 192000: 0.97, 256000: 1, 320000: 1 } as const;

/** Bits a second of an MP3 file. */
export type Mp3BitRate = keyof typeof TURNED_DOWN;

/** Bits a second: joint stereo that a teacher can mail (about 1 MB a minute) and that leaves the fiddle whole. Ours. */
const USUAL_BIT_RATE: Mp3BitRate = 128_000;

/** How to encode. */
export interface Mp3Options extends EncodingWatch {
  /** Bits a second, 128,000 unless said. */
  readonly bitRate?: Mp3BitRate;
}

/** One stretch of all channels, one channel after the other, times `gain`. */
const planar = (channels: readonly Float32Array[], from: number, frames: number, gain: number): Chunk => {
  const data = new Float32Array(frames * channels.length);
  for (const [c, channel] of channels.entries())
    for (let i = 0; i < frames; i += 1) data[c * frames + i] = (channel[from + i] as number) * gain;
  return { format: 'f32-planar', data };
};

/**
 * An MP3 file with ID3 tags.
 *
 * The encoder's delay is declared in the file, so that players and decoders that read the declaration begin on time and
 * end on time.
 * @param tags - a date that isn't "2024", "2024-05" or "2024-05-01" is left out
 * @throws RangeError for an empty sound; the signal's reason when stopped; an Error when the encoder fails
 */
export const encodeMp3 = async (
  sound: Sound,
  tags: SoundTags = {},
  options: Mp3Options = {},
): Promise<Uint8Array> => {
  const { bitRate = USUAL_BIT_RATE } = options;
  const bytes = await encodePackets(
    sound,
    tags,
    {
      codec: 'mp3',
      format: new Mp3OutputFormat(),
      bitRate,
      dateField: 'TDRC',
      chunk: (channels, from, frames) => planar(channels, from, frames, 1 / TURNED_DOWN[bitRate]),
      register: registerMp3Encoder,
    },
    options,
  );
  return withGaplessInfo(bytes, channelsOf(sound)[0]?.length ?? 0);
};
