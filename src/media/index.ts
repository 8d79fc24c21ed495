export { encodeFlac } from './encodeFlac.ts';
export { encodeMp3 } from './encodeMp3.ts';
export { encodeWav } from './encodeWav.ts';
export type { EncodingWatch, SoundTags } from './soundTags.ts';
