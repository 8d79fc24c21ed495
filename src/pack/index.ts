export type { BuildOptions, BuildResult } from './buildPack.ts';
export { buildPack } from './buildPack.ts';
export type { Manifest } from './manifest.ts';
export { inspectOwnSound, OwnSoundError } from './ownSound.ts';
export type { PackSource } from './source.ts';
export { sourceOf } from './source.ts';
