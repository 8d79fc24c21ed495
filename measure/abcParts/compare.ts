import type { NoteFact, TuneFacts } from './facts.ts';

/** What two readers can differ in. */
export type DifferenceKind =
  | 'note only ours'
  | 'note only theirs'
  | 'pitch'
  | 'length'
  | 'tie'
  | 'tuplet'
  | 'graces'
  | 'key'
  | 'metre'
  | 'bar line'
  | 'ending';

/** One difference, with the text around it. */
export interface Difference {
  readonly kind: DifferenceKind;
  readonly ours: string;
  readonly theirs: string;
  /** Offset in the tune's text. */
  readonly at: number;
  /** Pitches of the note and of the one behind it, as they read them. */
  readonly pitches?: readonly [readonly number[], readonly number[]];
}

const NEAR = 1e-6;

/** Notes that both found, matched by where they stand; what only one found. */
const matched = (
  ours: readonly NoteFact[],
  theirs: readonly NoteFact[],
): { readonly pairs: readonly (readonly [NoteFact, NoteFact])[]; readonly alone: readonly Difference[] } => {
  const pairs: (readonly [NoteFact, NoteFact])[] = [];
  const alone: Difference[] = [];
  let next = 0;
  for (const note of ours) {
    while (next < theirs.length && (theirs[next]?.end ?? 0) <= note.start) {
      const other = theirs[next];
      if (other !== undefined) alone.push(onlyTheirs(other));
      next += 1;
    }
    const other = theirs[next];
    if (other !== undefined && other.start <= note.start) {
      pairs.push([note, other]);
      next += 1;
    } else alone.push({ kind: 'note only ours', ours: shown(note), theirs: '', at: note.start });
  }
  for (const other of theirs.slice(next)) alone.push(onlyTheirs(other));
  return { pairs, alone };
};

const onlyTheirs = (note: NoteFact): Difference => ({
  kind: 'note only theirs',
  ours: '',
  theirs: shown(note),
  at: note.start,
});

const shown = (note: NoteFact): string => `${note.pitches.join('+') || 'rest'} × ${note.length}`;

const COMPARED: readonly (readonly [DifferenceKind, (note: NoteFact) => string])[] = [
  ['pitch', (n) => n.pitches.join('+')],
  ['length', (n) => `${Math.round(n.length / NEAR) * NEAR}`],
  ['tie', (n) => `${n.tied}`],
  ['tuplet', (n) => n.tuplet],
  ['graces', (n) => n.graces.join(' ')],
  ['bar line', (n) => n.bar],
  ['ending', (n) => n.ending],
];
/** What holds until it is changed: reported where the readers begin to differ. */
const HELD: readonly (readonly [DifferenceKind, (note: NoteFact) => string])[] = [
  ['key', (n) => n.key],
  ['metre', (n) => n.metre],
];

/** Everything that the two readings of one tune differ in, in order of place. */
export const differencesOf = (ours: TuneFacts, theirs: TuneFacts): readonly Difference[] => {
  const { pairs, alone } = matched(ours.notes, theirs.notes);
  const found: Difference[] = [...alone];
  const before = new Map<DifferenceKind, string>();
  pairs.forEach(([a, b], i) => {
    const pitches = [b.pitches, pairs[i + 1]?.[1].pitches ?? []] as const;
    for (const [kind, of] of COMPARED) {
      if (of(a) !== of(b)) found.push({ kind, ours: of(a), theirs: of(b), at: a.start, pitches });
    }
    for (const [kind, of] of HELD) {
      const state = of(a) === of(b) ? '' : `${of(a)} / ${of(b)}`;
      if (state !== '' && before.get(kind) !== state)
        found.push({ kind, ours: of(a), theirs: of(b), at: a.start });
      before.set(kind, state);
    }
  });
  if (ours.closing !== theirs.closing && alone.length === 0) {
    const at = ours.notes.at(-1)?.end ?? 0;
    found.push({ kind: 'bar line', ours: ours.closing, theirs: theirs.closing, at });
  }
  return found.toSorted((a, b) => a.at - b.at);
};
