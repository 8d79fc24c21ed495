export type { ChordPlan, PlannedChord } from './chordPlan.ts';
export { chordPlanOf, withChords } from './plan.ts';
