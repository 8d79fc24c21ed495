import { type Hertz, hertz } from '../core/index.ts';
import { openWav, resamplingOf } from '../signal/index.ts';
import type { DecodedSound, DecodeOptions, DecodeProblem } from './decoded.ts';
import { decodeElsewhere } from './decodeElsewhere.ts';
import { soundFormatOf } from './decodeFormat.ts';

/** What the packages for one format give. */
interface ChunkDecoder {
  readonly decode: (bytes: Uint8Array) => {
    readonly channelData: Float32Array[];
    readonly sampleRate: number;
  };
  readonly flush?: () => { readonly channelData: Float32Array[]; readonly sampleRate: number };
  readonly free: () => void;
}

/** Bytes handed to a decoder at a time. */
const CHUNK = 1 << 16;
/** Longest recording that is taken unless said, seconds. */
const LONGEST = 3_600;

const DECODERS: Readonly<Record<'mp3' | 'flac' | 'vorbis' | 'opus', () => Promise<ChunkDecoder>>> = {
  mp3: async () => (await import('@audio/decode-mp3')).decoder(),
  flac: async () => (await import('@audio/decode-flac')).decoder(),
  vorbis: async () => (await import('@audio/decode-vorbis')).decoder(),
  opus: async () => (await import('@audio/decode-opus')).decoder(),
};

/** All channels in one, at equal shares. */
const mixed = (channels: readonly Float32Array[]): Float32Array => {
  const [first, ...others] = channels;
  if (first === undefined) return new Float32Array(0);
  if (others.length === 0) return first;
  const out = Float32Array.from(first);
  for (const other of others)
    for (let i = 0; i < out.length; i += 1) out[i] = (out[i] as number) + (other[i] as number);
  for (let i = 0; i < out.length; i += 1) out[i] = (out[i] as number) / channels.length;
  return out;
};

const kept = (channels: readonly Float32Array[], how: DecodeOptions['channels']): readonly Float32Array[] =>
  how === 'mixed' ? [mixed(channels)] : channels.slice(0, 2);

const joined = (pieces: readonly Float32Array[]): Float32Array => {
  const out = new Float32Array(pieces.reduce((n, p) => n + p.length, 0));
  let at = 0;
  for (const piece of pieces) {
    out.set(piece, at);
    at += piece.length;
  }
  return out;
};

/** Gathers a sound that comes in blocks, at the rate that is asked for. */
interface Gathering {
  readonly take: (channels: readonly Float32Array[]) => void;
  readonly sound: () => DecodedSound;
}

const gatheringOf = (recordedAt: Hertz, { channels: how, rate = recordedAt }: DecodeOptions): Gathering => {
  const pieces: Float32Array[][] = [[], []];
  const resampling = rate === recordedAt ? [] : [0, 1].map(() => resamplingOf(recordedAt, rate));
  return {
    take: (channels) =>
      kept(channels, how).forEach((samples, c) => {
        pieces[c]?.push(resampling[c]?.take(samples) ?? Float32Array.from(samples));
      }),
    sound: () => {
      const there = pieces.filter((own) => own.length > 0);
      for (const [c, own] of there.entries()) {
        const rest = resampling[c]?.end();
        if (rest !== undefined) own.push(rest);
      }
      return { kind: 'sound', rate, recordedAt, channels: there.map(joined) };
    },
  };
};

const problem = (message: string): DecodeProblem => ({ kind: 'problem', message });

/** "an hour", "10 minutes". */
const spanOf = (time: number): string => (time === 3_600 ? 'an hour' : `${Math.round(time / 60)} minutes`);

const NO_SOUND = 'There is no sound in the file.';

/** What is wrong with a recording of that length; null when nothing is. */
const lengthProblem = (frames: number, rate: number, options: DecodeOptions): DecodeProblem | null => {
  const longest = options.longest ?? LONGEST;
  if (frames === 0) return problem(NO_SOUND);
  return frames / rate > longest
    ? problem(`The recording is longer than ${spanOf(longest)}. Cut out the tune first.`)
    : null;
};

const throughChunks = async (
  bytes: Uint8Array,
  decoder: ChunkDecoder,
  options: DecodeOptions,
): Promise<DecodedSound | DecodeProblem> => {
  let gathering: Gathering | null = null as Gathering | null;
  let [rate, frames] = [0, 0];
  const take = (
    out: { readonly channelData: readonly Float32Array[]; readonly sampleRate: number } | undefined,
  ): void => {
    if (out === undefined || (out.channelData[0]?.length ?? 0) === 0) return;
    rate = out.sampleRate;
    frames += out.channelData[0]?.length ?? 0;
    gathering ??= gatheringOf(hertz(rate), options);
    gathering.take(out.channelData);
  };
  for (let from = 0; from < bytes.length; from += CHUNK) {
    options.signal?.throwIfAborted();
    take(decoder.decode(bytes.subarray(from, from + CHUNK)));
    if (frames > 0 && lengthProblem(frames, rate, options) !== null) break;
    options.told?.(from / bytes.length);
    // Others get a turn: progress is drawn, Ctrl-C is heard.
    await new Promise((resolve) => setImmediate(resolve));
  }
  take(decoder.flush?.());
  return gathering === null ? problem(NO_SOUND) : (lengthProblem(frames, rate, options) ?? gathering.sound());
};

/** Samples of each channel of a WAV file that are taken at a time. */
const BLOCK = 1 << 18;

const fromWav = (bytes: Uint8Array, options: DecodeOptions): DecodedSound | DecodeProblem => {
  const wav = openWav(bytes);
  if (wav.kind === 'problem') return wav;
  const wrong = lengthProblem(wav.frames, wav.rate, options);
  if (wrong !== null) return wrong;
  const gathering = gatheringOf(wav.rate, options);
  for (let from = 0; from < wav.frames; from += BLOCK)
    gathering.take(wav.read(from, Math.min(wav.frames, from + BLOCK)));
  return gathering.sound();
};

/**
 * Decodes a sound file: WAV, MP3, FLAC, Ogg Vorbis and Opus by packages of WebAssembly, others by ffmpeg where it is
 * installed.
 * @param bytes - the whole file
 * @returns the sound, or what is wrong in a sentence
 * @throws the signal's reason when stopped
 */
export const decodeSound = async (
  bytes: Uint8Array,
  options: DecodeOptions,
): Promise<DecodedSound | DecodeProblem> => {
  if (bytes.length === 0) return problem('The file is empty.');
  const format = soundFormatOf(bytes);
  if (format === 'other') return decodeElsewhere(bytes, options);
  try {
    if (format === 'wav') {
      const read = fromWav(bytes, options);
      // Rare kinds of WAV (8 bit, 32 bit whole numbers, compressed) are ffmpeg's, where it is there.
      return read.kind === 'sound' || !read.message.startsWith('WAV samples')
        ? read
        : decodeElsewhere(bytes, options);
    }
    const decoder = await DECODERS[format]();
    try {
      return await throughChunks(bytes, decoder, options);
    } finally {
      decoder.free();
    }
  } catch (error) {
    if (options.signal?.aborted === true) throw error;
    return problem('The file is damaged: its sound cannot be decoded.');
  }
};
