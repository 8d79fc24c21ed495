export type { Chord, ChordQuality } from './chord.ts';
export { chordChromas, formatChord, noteAbove, printedChord, readChord } from './chord.ts';
export type { Dance, DanceId, TempoStep } from './dance.ts';
export { DANCES, danceOf, TEMPO_STEPS } from './dance.ts';
export type { Interval } from './interval.ts';
export { FIFTH, intervalBetween, isHarsh } from './interval.ts';
export type { Key, Mode } from './key.ts';
export {
  accidentalsOf,
  degreeOf,
  fifthsOf,
  isInKey,
  keyName,
  keyOf,
  keyOfFifths,
  MODES,
  NO_KEY,
  plainFifthsOf,
  scaleOf,
  semitonesAboveTonic,
} from './key.ts';
export type { Metre } from './metre.ts';
export { barLengthOf, formatMetre, isCompound, metre, notatedBeatOf } from './metre.ts';
export { OPEN_STRINGS } from './openStrings.ts';
export type { Alter, Pitch, PitchClass, Step } from './pitch.ts';
export {
  chromaOf,
  formatPitch,
  formatPitchClass,
  isSamePitch,
  midiOf,
  pitch,
  pitchAtStaffStep,
  pitchClass,
  printedName,
  STEPS,
  staffStepOf,
} from './pitch.ts';
export { isOctaves, transposedKey, transposedNote, transposedPitch, upTo } from './transposition.ts';
