export { cornerScoreOf } from './cornerScore.ts';
export type { Corner, CornerChord, SetStep, TuneInSet, TuneSet } from './setOf.ts';
export { setOf } from './setOf.ts';
export type { SetPlan, SetPlanTune, SetTempos } from './setPlan.ts';
export { SET_LENGTH, setProblems } from './setPlan.ts';
export type { SetFiddle, SetTrack } from './setTracks.ts';
export { performanceOfSetTrack, setTrackLength, setTracks, timelineOfSetTrack } from './setTracks.ts';
export { cornerWords, timesWords } from './setWords.ts';
