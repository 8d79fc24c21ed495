import { isSamePitch } from '../music/index.ts';
import { type Note, notesOf } from '../score/index.ts';
import type { SheetVersion } from './sheetPlan.ts';

/** Signs that the key at the foot explains. */
export const SIGN_KINDS = [
  'downBow',
  'upBow',
  'slur',
  'cut',
  'roll',
  'treble',
  'run',
  'slide',
  'drone',
  'turn',
  'trill',
  'finger',
  'second',
  'stayDown',
  'staccato',
  'accent',
  'fermata',
] as const;
/** A sign that the key at the foot explains. */
export type SignKind = (typeof SIGN_KINDS)[number];

const firstOfTriplet = (notes: readonly Note[], at: number): boolean => {
  const tuplet = notes[at]?.tuplet;
  return tuplet?.actual === 3 && tuplet.index === 0 && tuplet.count === 3;
};

/** Whether a written triplet stays on one note for its first two strokes: a treble; else it is a run or a turn. */
const isTreble = (notes: readonly Note[], at: number): boolean => {
  const [a, b] = [notes[at], notes[at + 1]];
  return a !== undefined && b !== undefined && isSamePitch(a.pitches[0], b.pitches[0]);
};

const signsOn = (notes: readonly Note[], at: number): readonly SignKind[] => {
  const note = notes[at];
  if (note === undefined) return [];
  const found: SignKind[] = [];
  if (note.bow !== null) found.push(note.bow === 'down' ? 'downBow' : 'upBow');
  if (note.slurs.opens > 0) found.push('slur');
  if (note.graces !== null) found.push('cut');
  for (const sign of note.signs) {
    if (sign === 'roll' || sign === 'slide' || sign === 'turn' || sign === 'trill') found.push(sign);
  }
  if (firstOfTriplet(notes, at)) found.push(isTreble(notes, at) ? 'treble' : 'run');
  if (note.pitches.length > 1) found.push('drone');
  if (note.fingers.length > 0) found.push('finger');
  for (const mark of note.marks) {
    if (mark === 'staccato' || mark === 'accent' || mark === 'fermata') found.push(mark);
  }
  return found;
};

/** Which signs of the hands occur beside those in the score. */
const handSigns = ({ hands }: SheetVersion): readonly SignKind[] => [
  ...((hands?.seconds.size ?? 0) > 0 ? (['second'] as const) : []),
  ...((hands?.stayDowns.length ?? 0) > 0 ? (['stayDown'] as const) : []),
];

/** Which signs occur in the versions, in the order in which the key lists them. */
export const signsIn = (versions: readonly SheetVersion[]): readonly SignKind[] => {
  const found = new Set<SignKind>(versions.flatMap(handSigns));
  for (const { score } of versions) {
    const notes = notesOf(score).map((n) => n.note);
    notes.forEach((_, at) => {
      for (const sign of signsOn(notes, at)) found.add(sign);
    });
  }
  return SIGN_KINDS.filter((kind) => found.has(kind));
};
