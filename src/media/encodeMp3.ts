import { registerMp3Encoder } from '@mediabunny/mp3-encoder';
import {
  AudioSample,
  AudioSampleSource,
  BufferTarget,
  canEncodeAudio,
  type MetadataTags,
  Mp3OutputFormat,
  Output,
} from 'mediabunny';
import { channelsOf, type Sound } from '../signal/index.ts';
import type { SoundTags } from './soundTags.ts';

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
/** Frames handed over at a time; between two of these the work can be stopped. */
const CHUNK = 1 << 16;
/** ID3 wants a timestamp: year, with month and day where known. Source: ID3v2.4 structure, section 4. */
const TIMESTAMP = /^\d{4}(-\d{2}(-\d{2})?)?$/;

/** How to encode. */
export interface Mp3Options {
  /** Bits a second, 128,000 unless said. */
  readonly bitRate?: Mp3BitRate;
  /** Stops the work between two chunks of about a second and a half. */
  readonly signal?: AbortSignal;
  /** Called with 0…1 as the work goes on. */
  readonly onProgress?: (fraction: number) => void;
}

const metadataOf = ({ track, date, ...words }: SoundTags): MetadataTags => ({
  ...words,
  ...(track === undefined ? {} : { trackNumber: track.number }),
  ...(track?.outOf === undefined ? {} : { tracksTotal: track.outOf }),
  // The package's own date is always a whole day; a year alone goes in as it is.
  ...(date !== undefined && TIMESTAMP.test(date) ? { raw: { TDRC: date } } : {}),
});

let ready: Promise<void> | undefined;
/** Node has no MP3 encoder of its own: the package's is made known once in each thread. */
const prepare = (): Promise<void> => {
  ready ??= canEncodeAudio('mp3').then((can) => {
    if (!can) registerMp3Encoder();
  });
  return ready;
};

/** One stretch of all channels, one channel after the other, times `gain`. */
const chunkOf = (channels: readonly Float32Array[], from: number, gain: number): Float32Array => {
  const length = Math.min(CHUNK, (channels[0]?.length ?? 0) - from);
  const data = new Float32Array(length * channels.length);
  for (const [c, channel] of channels.entries()) data.set(channel.subarray(from, from + length), c * length);
  for (let i = 0; i < data.length; i += 1) data[i] = (data[i] as number) * gain;
  return data;
};

/**
 * An MP3 file with ID3 tags.
 *
 * Encoding runs in a worker of the encoder's own, so one call keeps the calling thread free. The encoder's delay (about
 * 1,100 samples, players add some 530) is not taken out: everything comes some 40 ms late, evenly.
 * @param tags - a date that isn't "2024", "2024-05" or "2024-05-01" is left out
 * @throws RangeError for an empty sound; the signal's reason when stopped; an Error when the encoder fails
 */
export const encodeMp3 = async (
  sound: Sound,
  tags: SoundTags = {},
  options: Mp3Options = {},
): Promise<Uint8Array> => {
  const { bitRate = USUAL_BIT_RATE, signal, onProgress } = options;
  const channels = channelsOf(sound);
  const frames = channels[0]?.length ?? 0;
  if (frames === 0) throw new RangeError('encodeMp3: the sound is empty');
  signal?.throwIfAborted();
  await prepare();
  const target = new BufferTarget();
  const output = new Output({ format: new Mp3OutputFormat(), target });
  const source = new AudioSampleSource({ codec: 'mp3', bitrate: bitRate });
  output.addAudioTrack(source);
  output.setMetadataTags(metadataOf(tags));
  try {
    await output.start();
    for (let from = 0; from < frames; from += CHUNK) {
      signal?.throwIfAborted();
      const sample = new AudioSample({
        data: chunkOf(channels, from, 1 / TURNED_DOWN[bitRate]),
        format: 'f32-planar',
        numberOfChannels: channels.length,
        sampleRate: sound.rate,
        timestamp: from / sound.rate,
      });
      await source.add(sample);
      sample.close();
      onProgress?.(Math.min(1, (from + CHUNK) / frames));
    }
    signal?.throwIfAborted();
    await output.finalize();
  } catch (error) {
    if (output.state !== 'finalized') await output.cancel();
    throw error;
  }
  if (target.buffer === null) throw new Error('The MP3 encoder gave nothing back.');
  return new Uint8Array(target.buffer);
};
