import type { Pitch } from '../music/index.ts';
import { asksForEven } from './bars.ts';
import type { WeighedBar, WeighedNote } from './weigh.ts';

/**
 * One true thing about a bar of bones that a teacher may choose it for.
 *
 * `fuller`, `sparser`, `run`, `topNote` and `instead` compare it with the derived bar.
 */
export type ChoiceReason =
  | { readonly kind: 'derived' }
  /** More notes than the derived bar. */
  | { readonly kind: 'fuller' }
  /** Fewer notes. */
  | { readonly kind: 'sparser' }
  /** Just as the plain bar. */
  | { readonly kind: 'allNotes' }
  /** Nothing is struck off the beat. */
  | { readonly kind: 'onlyBeats' }
  /** Three notes or more in a row by step, all kept, that the derived bar has not got whole. */
  | { readonly kind: 'run'; readonly up: boolean; readonly to: Pitch }
  /** The bar's highest note, which the derived bar leaves out. */
  | { readonly kind: 'topNote'; readonly pitch: Pitch }
  /** Notes that the derived bar has not got, and those that it has in their stead. */
  | { readonly kind: 'instead'; readonly gained: readonly Pitch[]; readonly lost: readonly Pitch[] }
  /** With separate bows an even number of strokes: the next bar starts with the same bow. */
  | { readonly kind: 'evenStrokes'; readonly strokes: number }
  /** An odd number where an even one brings the bow round: the next bar starts the other way. */
  | { readonly kind: 'oddStrokes'; readonly strokes: number };

/** Which notes of a bar stay: one flag a struck note. */
export type Flags = readonly boolean[];

/** How many notes are struck. */
export const strokesIn = (flags: Flags): number => flags.filter(Boolean).length;

const pitchOf = (note: WeighedNote): Pitch => note.line.note.pitches[0];

/** Whether every note that stays stands on a beat. */
export const keepsOnlyBeats = (bar: WeighedBar, flags: Flags): boolean =>
  bar.notes.every((note, i) => note.onBeat || flags[i] !== true);

/** Whether the bar's highest note is struck. */
export const keepsTop = (bar: WeighedBar, flags: Flags): boolean => {
  const top = Math.max(...bar.notes.map(({ midi }) => midi));
  return bar.notes.some(({ midi }, i) => midi === top && flags[i] === true);
};

/** The fewest notes that make a run. Common practice. */
const RUN = 3;

/** The longest run by step that `flags` has whole and `other` has not. */
const newRun = (bar: WeighedBar, flags: Flags, other: Flags): ChoiceReason | null => {
  let best: { readonly from: number; readonly to: number } | null = null;
  const step = (i: number): number =>
    (bar.notes[i]?.line.staffStep ?? 0) - (bar.notes[i - 1]?.line.staffStep ?? 0);
  for (let from = 0; from < bar.notes.length; from += 1) {
    const direction = step(from + 1);
    if (Math.abs(direction) !== 1) continue;
    let to = from;
    while (to + 1 < bar.notes.length && step(to + 1) === direction) to += 1;
    const all = bar.notes.slice(from, to + 1).map((_, i) => from + i);
    const isNew = all.every((i) => flags[i] === true) && !all.every((i) => other[i] === true);
    if (all.length >= RUN && isNew && (best === null || to - from > best.to - best.from)) best = { from, to };
    from = Math.max(from, to - 1);
  }
  const last = best === null ? undefined : bar.notes[best.to];
  if (best === null || last === undefined) return null;
  return { kind: 'run', up: step(best.to) > 0, to: pitchOf(last) };
};

const bowReason = (bar: WeighedBar, flags: Flags): readonly ChoiceReason[] => {
  const strokes = strokesIn(flags);
  if (!asksForEven(bar) || strokes === 0) return [];
  return [{ kind: strokes % 2 === 0 ? 'evenStrokes' : 'oddStrokes', strokes }];
};

/** The main reason, by how much is kept; null where it is as much as in the derived bar. */
const amountReason = (bar: WeighedBar, flags: Flags, derived: Flags): ChoiceReason | null => {
  const [own, usual] = [strokesIn(flags), strokesIn(derived)];
  if (own > usual) return own === bar.notes.length ? { kind: 'allNotes' } : { kind: 'fuller' };
  if (own < usual) return keepsOnlyBeats(bar, flags) ? { kind: 'onlyBeats' } : { kind: 'sparser' };
  return null;
};

const pitchesWhere = (bar: WeighedBar, here: Flags, there: Flags): readonly Pitch[] =>
  bar.notes.flatMap((note, i) => (here[i] === true && there[i] !== true ? [pitchOf(note)] : []));

/** What speaks for a bar of bones beside the derived one: the main reason first, the bow last. */
export const reasonsFor = (bar: WeighedBar, flags: Flags, derived: Flags): readonly ChoiceReason[] => {
  if (flags.every((kept, i) => kept === derived[i])) return [{ kind: 'derived' }, ...bowReason(bar, flags)];
  const amount = amountReason(bar, flags, derived);
  const gained = pitchesWhere(bar, flags, derived);
  const top = bar.notes.toSorted((a, b) => b.midi - a.midi)[0];
  const hasTop = top !== undefined && keepsTop(bar, flags) && !keepsTop(bar, derived);
  const shape: ChoiceReason | null =
    newRun(bar, flags, derived) ?? (hasTop ? { kind: 'topNote', pitch: pitchOf(top) } : null);
  const instead: ChoiceReason = { kind: 'instead', gained, lost: pitchesWhere(bar, derived, flags) };
  return [
    ...(amount === null ? [] : [amount]),
    ...(shape === null ? (amount === null ? [instead] : []) : [shape]),
    ...bowReason(bar, flags),
  ];
};
