export type { DecodedSound } from './decoded.ts';
export { decodeSound } from './decodeSound.ts';
export { encodeFlac } from './encodeFlac.ts';
export { encodeMp3 } from './encodeMp3.ts';
export { encodeWav } from './encodeWav.ts';
export type { EncodingWatch, SoundTags } from './soundTags.ts';
export { stretchSound } from './stretchSound.ts';
