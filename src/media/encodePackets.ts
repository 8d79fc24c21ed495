import {
  AudioSample,
  AudioSampleSource,
  BufferTarget,
  canEncodeAudio,
  type MetadataTags,
  Output,
  type OutputFormat,
} from 'mediabunny';
import { channelsOf, type Sound } from '../signal/index.ts';
import type { EncodingWatch, SoundTags } from './soundTags.ts';

/** Frames handed over at a time; between two of these the work can be stopped. */
const CHUNK = 1 << 16;
/** Year, with month and day where known. Source: ID3v2.4 structure, section 4. */
const TIMESTAMP = /^\d{4}(-\d{2}(-\d{2})?)?$/;

/** A kind of file that an encoder makes. */
export interface Encoding {
  readonly codec: 'mp3' | 'flac';
  readonly format: OutputFormat;
  /** Bits a second, where the codec has a choice. */
  readonly bitRate?: number;
  /** The name under which this kind of file keeps a date. */
  readonly dateField: string;
  /** One sample as the encoder wants it, from −1…1. */
  readonly chunk: (channels: readonly Float32Array[], from: number, frames: number) => Chunk;
  /** Makes the encoder known where the system has none of its own. */
  readonly register: () => void;
}

/** A stretch of sound for the encoder. */
export type Chunk =
  | { readonly format: 'f32-planar'; readonly data: Float32Array }
  | { readonly format: 's16'; readonly data: Int16Array };

const metadataOf = ({ track, date, cover, ...words }: SoundTags, dateField: string): MetadataTags => ({
  ...words,
  ...(track === undefined ? {} : { trackNumber: track.number }),
  ...(track?.outOf === undefined ? {} : { tracksTotal: track.outOf }),
  ...(cover === undefined ? {} : { images: [{ data: cover, mimeType: 'image/png', kind: 'coverFront' }] }),
  // The package's own date is always a whole day; a year alone goes in as it is.
  ...(date !== undefined && TIMESTAMP.test(date) ? { raw: { [dateField]: date } } : {}),
});

const ready = new Map<string, Promise<void>>();
/** Node has no encoders of its own: the packages' are made known once in each thread. */
const prepare = ({ codec, register }: Encoding): Promise<void> => {
  const made =
    ready.get(codec) ??
    canEncodeAudio(codec).then((can) => {
      if (!can) register();
    });
  ready.set(codec, made);
  return made;
};

/**
 * A sound file made by an encoder that works in packets.
 *
 * Encoding runs in a worker of the encoder's own, so one call keeps the calling thread free.
 * @throws RangeError for an empty sound; the signal's reason when stopped; an Error when the encoder fails
 */
export const encodePackets = async (
  sound: Sound,
  tags: SoundTags,
  encoding: Encoding,
  { signal, onProgress }: EncodingWatch,
): Promise<Uint8Array> => {
  const channels = channelsOf(sound);
  const frames = channels[0]?.length ?? 0;
  if (frames === 0) throw new RangeError(`a sound to be encoded as ${encoding.codec} is empty`);
  signal?.throwIfAborted();
  await prepare(encoding);
  const target = new BufferTarget();
  const output = new Output({ format: encoding.format, target });
  const { codec, bitRate } = encoding;
  const source = new AudioSampleSource({ codec, ...(bitRate === undefined ? {} : { bitrate: bitRate }) });
  output.addAudioTrack(source);
  output.setMetadataTags(metadataOf(tags, encoding.dateField));
  try {
    await output.start();
    for (let from = 0; from < frames; from += CHUNK) {
      signal?.throwIfAborted();
      const sample = new AudioSample({
        ...encoding.chunk(channels, from, Math.min(CHUNK, frames - from)),
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
  if (target.buffer === null) throw new Error(`The ${codec} encoder gave nothing back.`);
  return new Uint8Array(target.buffer);
};
