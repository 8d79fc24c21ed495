// The information frame of an MP3 file, in which an encoder declares how much silence it put before and after the sound.
// From memory: the layout of the Xing/Info frame and of LAME's extension to it ("MP3 Info Tag", revision 1).

/**
 * Samples of silence that the encoder puts before the sound, a decoder's own delay not counted.
 * @see Source: measured with @mediabunny/mp3-encoder 1.61.0 and FFmpeg's decoder, click by click
 */
const ENCODER_DELAY = 576;
/** Samples in a frame. Source: ISO/IEC 11172-3, layer III. */
const FRAME_SAMPLES = 1152;
/** Kilobits a second by index in a frame's header. Source: the same, MPEG 1 layer III. */
const KILOBITS = [0, 32, 40, 48, 56, 64, 80, 96, 112, 128] as const;
/** Samples a second by index in a frame's header. Source: the same, MPEG 1. */
const RATES = [44_100, 48_000, 32_000] as const;
/** The declaration has room for so many samples on each side: twelve bits. */
const MOST_DECLARED = 0xfff;
/** Where the information stands behind the beginning of an MPEG 1 frame. */
const INFO_OFFSET = { stereo: 36, mono: 21 } as const;
/** Where its pieces stand: flags, frames, bytes, table of contents, quality; then LAME's extension. */
const AT = { flags: 4, frames: 8, bytes: 12, contents: 16, extension: 120, end: 156 } as const;
/** And in the extension, from the information's beginning. */
const IN_EXTENSION = { delays: 141, length: 148, crc: 154 } as const;
const ALL_FIELDS = 0xf;

/** How long the ID3 tag before the first frame is. */
const id3Length = (bytes: Uint8Array): number => {
  if (textAt(bytes, 0, 3) !== 'ID3') return 0;
  const size = [6, 7, 8, 9].reduce((all, at) => (all << 7) | ((bytes[at] ?? 0) & 0x7f), 0);
  return 10 + size;
};

const textAt = (bytes: Uint8Array, at: number, length: number): string =>
  String.fromCharCode(...bytes.subarray(at, at + length));
const putText = (bytes: Uint8Array, at: number, text: string): void =>
  bytes.set(
    [...text].map((c) => c.charCodeAt(0)),
    at,
  );

/** CRC-16 as LAME's extension has it: polynomial 0x8005, bits reversed. */
const crc16 = (bytes: Uint8Array): number => {
  let crc = 0;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = (crc & 1) === 1 ? (crc >>> 1) ^ 0xa001 : crc >>> 1;
  }
  return crc;
};

/** Bytes of an MPEG 1 layer III frame. */
const frameBytes = (kilobitIndex: number, rate: number): number =>
  Math.floor((144_000 * (KILOBITS[kilobitIndex] ?? 0)) / rate);

/**
 * Declares in an MP3 file where its sound begins and ends, so that it begins and ends on time when it is decoded.
 * @param bytes - MPEG 1 layer III that begins with an information frame, perhaps behind an ID3 tag
 * @param samples - how long the sound is
 * @returns the file with a longer information frame; the same bytes where there is none or it cannot be declared
 */
export const withGaplessInfo = (bytes: Uint8Array, samples: number): Uint8Array => {
  const start = id3Length(bytes);
  const [sync = 0, version = 0, rates = 0, mode = 0] = bytes.subarray(start, start + 4);
  const rate = RATES[(rates >> 2) & 3];
  const info = (mode & 0xc0) === 0xc0 ? INFO_OFFSET.mono : INFO_OFFSET.stereo;
  const isMpeg1 = sync === 0xff && (version & 0xfe) === 0xfa;
  if (!isMpeg1 || rate === undefined || textAt(bytes, start + info, 4) !== 'Xing') return bytes;
  const old = frameBytes(rates >> 4, rate);
  const index = KILOBITS.findIndex((_, i) => frameBytes(i, rate) >= info + AT.end);
  const from = new DataView(bytes.buffer, bytes.byteOffset + start + info);
  // The package counts the information frame, too; by custom only frames with sound count.
  const frames = from.getUint32(AT.frames) - 1;
  const padding = frames * FRAME_SAMPLES - ENCODER_DELAY - samples;
  if (padding < 0 || padding > MOST_DECLARED) return bytes;
  const frame = new Uint8Array(frameBytes(index, rate));
  const length = frame.length + bytes.length - start - old;
  // Without a checksum of the frame's own (the lowest bit of the second byte).
  frame.set([sync, version | 1, (index << 4) | (rates & 0x0f), mode]);
  putText(frame, info, 'Info');
  const view = new DataView(frame.buffer, info);
  view.setUint32(AT.flags, ALL_FIELDS);
  view.setUint32(AT.frames, frames);
  view.setUint32(AT.bytes, length);
  frame.set(bytes.subarray(start + info + AT.contents, start + info + AT.contents + 100), info + AT.contents);
  putText(frame, info + AT.extension, 'LAME3.100');
  const delays = (ENCODER_DELAY << 12) | padding;
  frame.set([delays >> 16, (delays >> 8) & 0xff, delays & 0xff], info + IN_EXTENSION.delays);
  view.setUint32(IN_EXTENSION.length, length);
  view.setUint16(IN_EXTENSION.crc, crc16(frame.subarray(0, info + IN_EXTENSION.crc)));
  const out = new Uint8Array(start + length);
  out.set(bytes.subarray(0, start));
  out.set(frame, start);
  out.set(bytes.subarray(start + old), start + frame.length);
  return out;
};
