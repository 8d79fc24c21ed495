export type { PlaySettings, Way } from './knownRounds.ts';
export type { MusicView } from './musicView.ts';
export { musicViewOf } from './musicView.ts';
export type { Player, Position } from './player.ts';
export { playerOf } from './player.ts';
export type { SoundOut, SoundWay } from './soundOut.ts';
export { openSound } from './soundOut.ts';
export type { Key } from './thread.ts';
