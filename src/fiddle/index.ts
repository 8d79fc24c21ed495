export type { FoundOrnament, OrnamentKind } from './ornaments.ts';
export { ornamentsOf } from './ornaments.ts';
export { danceOfScore, runningUnitOf } from './runningUnit.ts';
export type { FiddleString, StringName } from './strings.ts';
export { FOURTH_FINGER_REACH, openStringOf, STRINGS } from './strings.ts';
