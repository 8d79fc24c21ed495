export type { BarPlace, Passage } from './route.ts';
export type { Seam, SeamEvent } from './seam.ts';
export { seamOf } from './seam.ts';
export type { Band, CountIn, PerformSettings, Player } from './settings.ts';
export { PLAYERS } from './settings.ts';

export type {
  Attack,
  TempoChange,
  TimedBar,
  TimedBeat,
  TimedNote,
  Timeline,
  Voice,
} from './timeline.ts';
export { CLICK, DRUM, RING_OUT, soundingLength } from './timeline.ts';
export type { SetTune, TurnChord } from './timelineOf.ts';
export { setTimelineLengthOf, timelineLengthOf, timelineOf, timelineOfSet } from './timelineOf.ts';
