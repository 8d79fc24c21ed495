import { type Hertz, hertz } from '../core/index.ts';
import { channelsOf, type Sound } from './buffers.ts';

// Source: IBM and Microsoft, "Multimedia Programming Interface and Data Specifications 1.0" (1991), RIFF WAVE and
// LIST INFO chunks; format tag 3 (IEEE float) from Microsoft's later WAVE revision.

/** How samples are stored in a WAV file. */
export type WavDepth = 'int16' | 'int24' | 'float32';

/** Words about a recording, stored in the LIST INFO chunk. */
export interface WavInfo {
  readonly title?: string;
  readonly artist?: string;
  readonly album?: string;
  readonly track?: number;
  /** "2024" or "2024-05-01". */
  readonly date?: string;
  readonly comment?: string;
}

const INFO_IDS = [
  ['title', 'INAM'],
  ['artist', 'IART'],
  ['album', 'IPRD'],
  ['track', 'ITRK'],
  ['date', 'ICRD'],
  ['comment', 'ICMT'],
] as const satisfies readonly (readonly [keyof WavInfo, string])[];

const BYTES: Readonly<Record<WavDepth, number>> = { int16: 2, int24: 3, float32: 4 };
const PCM = 1;
const IEEE_FLOAT = 3;
const EXTENSIBLE = 0xfffe;

/** UTF-8 bytes: neither Node nor a browser is assumed here. */
const utf8 = (text: string): number[] =>
  [...encodeURIComponent(text).matchAll(/%([0-9A-F]{2})|[^%]/g)].map((m) =>
    m[1] === undefined ? m[0].charCodeAt(0) : Number.parseInt(m[1], 16),
  );

const chunk = (id: string, content: ArrayLike<number>): Uint8Array => {
  const bytes = new Uint8Array(8 + content.length + (content.length % 2));
  for (let i = 0; i < 4; i += 1) bytes[i] = id.charCodeAt(i);
  new DataView(bytes.buffer).setUint32(4, content.length, true);
  bytes.set(content, 8);
  return bytes;
};

const joined = (pieces: readonly Uint8Array[]): Uint8Array => {
  const all = new Uint8Array(pieces.reduce((n, p) => n + p.length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
};

const formatChunk = (channels: number, rate: Hertz, depth: WavDepth): Uint8Array => {
  const view = new DataView(new ArrayBuffer(16));
  const width = BYTES[depth];
  view.setUint16(0, depth === 'float32' ? IEEE_FLOAT : PCM, true);
  view.setUint16(2, channels, true);
  view.setUint32(4, rate, true);
  view.setUint32(8, rate * channels * width, true);
  view.setUint16(12, channels * width, true);
  view.setUint16(14, width * 8, true);
  return chunk('fmt ', new Uint8Array(view.buffer));
};

/** The whole number of a sample at full scale `full`, clipped. */
const whole = (x: number, full: number): number => Math.max(-full, Math.min(full - 1, Math.round(x * full)));

/** A sample as a 16-bit number: from −1…1, clipped. */
export const int16Of = (x: number): number => whole(x, 0x8000);

const putSample = (view: DataView, at: number, x: number, depth: WavDepth): void => {
  switch (depth) {
    case 'int16':
      view.setInt16(at, int16Of(x), true);
      return;
    case 'int24': {
      const value = whole(x, 0x800000);
      view.setUint8(at, value & 0xff);
      view.setInt16(at + 1, value >> 8, true);
      return;
    }
    case 'float32':
      view.setFloat32(at, x, true);
      return;
    default:
      depth satisfies never;
  }
};

const infoChunk = (info: WavInfo): Uint8Array[] => {
  const entries = INFO_IDS.flatMap(([key, id]) => {
    const value = info[key];
    return value === undefined ? [] : [chunk(id, [...utf8(String(value)), 0])];
  });
  return entries.length === 0 ? [] : [chunk('LIST', joined([Uint8Array.from(utf8('INFO')), ...entries]))];
};

/**
 * Writes a WAV file.
 * @param sound - samples outside −1…1 are clipped in the integer depths
 * @param options - `depth`: int16 unless said; `info`: what to store in LIST INFO
 * @throws RangeError when the file would pass 4 GiB
 */
export const writeWav = (
  sound: Sound,
  options: { readonly depth?: WavDepth; readonly info?: WavInfo } = {},
): Uint8Array => {
  const depth = options.depth ?? 'int16';
  const channels = channelsOf(sound);
  const frames = channels[0]?.length ?? 0;
  const width = BYTES[depth];
  if (frames * channels.length * width > 0xffff_0000)
    throw new RangeError(`writeWav: ${frames} frames don't fit in a WAV file`);
  const data = new DataView(new ArrayBuffer(frames * channels.length * width));
  channels.forEach((samples, c) => {
    for (let i = 0; i < frames; i += 1)
      putSample(data, (i * channels.length + c) * width, samples[i] as number, depth);
  });
  const body = [
    Uint8Array.from(utf8('WAVE')),
    formatChunk(channels.length, sound.rate, depth),
    ...infoChunk(options.info ?? {}),
    chunk('data', new Uint8Array(data.buffer)),
  ];
  return chunk('RIFF', joined(body));
};

/** Why bytes could not be read as a WAV file. */
export interface WavProblem {
  readonly kind: 'problem';
  readonly message: string;
}

/** What a WAV file holds. */
export interface WavContent {
  readonly kind: 'wav';
  readonly rate: Hertz;
  /** Left first; integer samples scaled to −1…1. */
  readonly channels: readonly Float32Array[];
  readonly info: WavInfo;
}

interface WavFormat {
  readonly tag: number;
  readonly channels: number;
  readonly rate: number;
  readonly bits: number;
}

const problem = (message: string): WavProblem => ({ kind: 'problem', message });
const idAt = (view: DataView, at: number): string =>
  String.fromCharCode(...[0, 1, 2, 3].map((i) => view.getUint8(at + i)));

const readFormat = (view: DataView): WavFormat => {
  const tag = view.getUint16(0, true);
  return {
    tag: tag === EXTENSIBLE && view.byteLength >= 26 ? view.getUint16(24, true) : tag,
    channels: view.getUint16(2, true),
    rate: view.getUint32(4, true),
    bits: view.getUint16(14, true),
  };
};

const textOf = (view: DataView): string => {
  let escaped = '';
  for (let i = 0; i < view.byteLength && view.getUint8(i) !== 0; i += 1)
    escaped += `%${view.getUint8(i).toString(16).padStart(2, '0')}`;
  try {
    return decodeURIComponent(escaped);
  } catch {
    return unescape8(escaped);
  }
};
/** Older programs write Latin-1. */
const unescape8 = (escaped: string): string =>
  escaped.replace(/%(..)/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));

/** The chunks in a stretch of a RIFF file; a chunk cut short ends with the file. */
const chunksIn = (view: DataView, from: number): readonly { id: string; content: DataView }[] => {
  const found: { id: string; content: DataView }[] = [];
  for (let at = from; at + 8 <= view.byteLength; ) {
    const size = Math.min(view.getUint32(at + 4, true), view.byteLength - at - 8);
    found.push({ id: idAt(view, at), content: new DataView(view.buffer, view.byteOffset + at + 8, size) });
    at += 8 + size + (size % 2);
  }
  return found;
};

const readInfo = (view: DataView): WavInfo => {
  if (view.byteLength < 4 || idAt(view, 0) !== 'INFO') return {};
  const info: Record<string, string | number> = {};
  for (const { id, content } of chunksIn(view, 4)) {
    const key = INFO_IDS.find(([, known]) => known === id)?.[0];
    if (key === 'track') info.track = Number.parseInt(textOf(content), 10) || 0;
    else if (key !== undefined) info[key] = textOf(content);
  }
  return info;
};

const sampleReader = (format: WavFormat): ((view: DataView, at: number) => number) | null => {
  const { tag, bits } = format;
  if (tag === PCM && bits === 16) return (v, at) => v.getInt16(at, true) / 0x8000;
  if (tag === PCM && bits === 24)
    return (v, at) => (v.getUint8(at) + v.getInt16(at + 1, true) * 256) / 0x800000;
  if (tag === IEEE_FLOAT && bits === 32) return (v, at) => v.getFloat32(at, true);
  return null;
};

/** A WAV file whose samples are read when they are asked for. */
export interface OpenedWav {
  readonly kind: 'wav';
  readonly rate: Hertz;
  /** Samples of each channel. */
  readonly frames: number;
  /** Samples from one frame up to another, left first; whole numbers scaled to −1…1. */
  readonly read: (from: number, to: number) => readonly Float32Array[];
  readonly info: WavInfo;
}

/**
 * Opens a WAV file: 16 or 24 bit whole numbers or 32 bit floating point, any number of channels.
 * @returns the file, or what is wrong with it
 */
export const openWav = (bytes: Uint8Array): OpenedWav | WavProblem => {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 12 || idAt(view, 0) !== 'RIFF' || idAt(view, 8) !== 'WAVE')
    return problem('This is not a WAV file.');
  const chunks = chunksIn(view, 12);
  const formatView = chunks.find((c) => c.id === 'fmt ')?.content;
  const data = chunks.find((c) => c.id === 'data')?.content;
  if (formatView === undefined || formatView.byteLength < 16 || data === undefined)
    return problem('The WAV file has no format or no samples.');
  const format = readFormat(formatView);
  const sampleAt = sampleReader(format);
  if (sampleAt === null || format.channels === 0 || format.rate === 0)
    return problem(`WAV samples of ${format.bits} bits (format ${format.tag}) can't be read.`);
  const width = format.bits / 8;
  const list = chunks.find((c) => c.id === 'LIST')?.content;
  return {
    kind: 'wav',
    rate: hertz(format.rate),
    frames: Math.floor(data.byteLength / (width * format.channels)),
    read: (from, to) =>
      Array.from({ length: format.channels }, (_, c) => {
        const samples = new Float32Array(Math.max(0, to - from));
        for (let i = 0; i < samples.length; i += 1)
          samples[i] = sampleAt(data, ((from + i) * format.channels + c) * width);
        return samples;
      }),
    info: list === undefined ? {} : readInfo(list),
  };
};

/** Reads a whole WAV file, as `openWav` opens it. */
export const readWav = (bytes: Uint8Array): WavContent | WavProblem => {
  const wav = openWav(bytes);
  if (wav.kind === 'problem') return wav;
  return { kind: 'wav', rate: wav.rate, channels: wav.read(0, wav.frames), info: wav.info };
};
