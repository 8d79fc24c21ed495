export type { Corner, CornerChord, SetStep, TuneInSet, TuneSet } from './setOf.ts';
export { setOf } from './setOf.ts';
export type { SetPlan, SetPlanTune, SetTempos } from './setPlan.ts';
export { setProblems } from './setPlan.ts';
export type { SetFiddle, SetTrack } from './setTracks.ts';
export { performanceOfSetTrack, setTrackLength, setTracks, timelineOfSetTrack } from './setTracks.ts';
export { cornerWords } from './setWords.ts';
