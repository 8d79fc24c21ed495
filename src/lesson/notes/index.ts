export type { BarNote } from './barNotes.ts';
export type { Saying } from './claims.ts';
export type { OrnamentNames } from './ornamentWords.ts';
export { ornamentWords, USUAL_ORNAMENT_NAMES } from './ornamentWords.ts';
export type { NoteAnchor, OwnNote } from './ownNote.ts';
export type { OrnamentRemark, Remark, TeachingNotes } from './remark.ts';
export type { StandingNote, StandingWords, Technique, TechniqueLink } from './standingWords.ts';
export { ORNAMENT_KINDS, TECHNIQUES, webAddressProblem } from './standingWords.ts';
export { teachingNotesOf } from './teachingNotes.ts';
