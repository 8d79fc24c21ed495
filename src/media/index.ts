export { encodeMp3 } from './encodeMp3.ts';
export { encodeWav } from './encodeWav.ts';
export type { SoundTags } from './soundTags.ts';
