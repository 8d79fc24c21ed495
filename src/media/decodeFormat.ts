/** A sound file's format, as its first bytes say. `other`: none that is decoded here. */
export type SoundFormat = 'wav' | 'mp3' | 'flac' | 'vorbis' | 'opus' | 'other';

const textAt = (bytes: Uint8Array, from: number, length: number): string =>
  String.fromCharCode(...bytes.subarray(from, from + length));

/** An Ogg page's first packet begins behind its table of segments. Source: RFC 3533, section 6. */
const OGG_TABLE = 26;

const inOgg = (bytes: Uint8Array): SoundFormat => {
  const packet = OGG_TABLE + 1 + (bytes[OGG_TABLE] ?? 0);
  if (textAt(bytes, packet, 8) === 'OpusHead') return 'opus';
  return textAt(bytes, packet + 1, 6) === 'vorbis' ? 'vorbis' : 'other';
};

/** Eleven set bits, then a layer other than the reserved 0: an MPEG audio frame. Source: ISO/IEC 11172-3, 2.4.2.3. */
const isMpegFrame = (bytes: Uint8Array): boolean =>
  bytes[0] === 0xff && ((bytes[1] ?? 0) & 0xe0) === 0xe0 && ((bytes[1] ?? 0) & 0x06) !== 0;

/** Which format is it? Names of files are not believed. */
export const soundFormatOf = (bytes: Uint8Array): SoundFormat => {
  if (textAt(bytes, 0, 4) === 'RIFF' && textAt(bytes, 8, 4) === 'WAVE') return 'wav';
  if (textAt(bytes, 0, 4) === 'fLaC') return 'flac';
  if (textAt(bytes, 0, 4) === 'OggS') return inOgg(bytes);
  if (textAt(bytes, 0, 3) === 'ID3' || isMpegFrame(bytes)) return 'mp3';
  return 'other';
};
