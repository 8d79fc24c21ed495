import type { Alter } from '../../../music/index.ts';
import type { Bar, Event, Note, Score } from '../../../score/index.ts';
import type { ReadTune } from '../readTune.ts';
import type { TextChange } from './noteEdit.ts';

/** A tune and the text that it was read from. */
export interface Source {
  readonly text: string;
  readonly tune: ReadTune;
}

/** Accidentals to be written, by the key of their note, grace note or chord tone. */
export type Signs = ReadonlyMap<string, Alter>;

/** How an edit is to be made, before anybody has read what comes of it. */
export interface Plan {
  readonly kind: 'plan';
  /** Ways to write it, the one that suits this text best first. */
  readonly ways: readonly ((signs: Signs) => readonly TextChange[])[];
  /** The score that must be read from the new text. */
  readonly expected: Score;
  /** Keys whose accidental the ways write themselves. */
  readonly owned: ReadonlySet<string>;
  /** Onsets behind the note move, so they do not count. */
  readonly movesOnsets: boolean;
}

/** A plan whose text depends on no accidental. */
export const planOf = (
  expected: Score,
  ways: readonly (readonly TextChange[])[],
  options: Partial<Pick<Plan, 'movesOnsets'>> = {},
): Plan => ({
  kind: 'plan',
  ways: ways.map((way) => () => way),
  expected,
  owned: new Set(),
  movesOnsets: options.movesOnsets ?? false,
});

/** The score with that bar changed. */
export const withBar = (
  score: Score,
  at: { readonly part: string; readonly bar: number },
  change: (bar: Bar) => Bar,
): Score => ({
  ...score,
  parts: score.parts.map((part) =>
    part.label === at.part
      ? { ...part, bars: part.bars.map((bar, i) => (i === at.bar ? change(bar) : bar)) }
      : part,
  ),
});

/** The score with the event of that index in its bar changed. */
export const withEvent = (
  score: Score,
  at: { readonly part: string; readonly bar: number; readonly index: number },
  change: (event: Event) => Event,
): Score =>
  withBar(score, at, (bar) => ({
    ...bar,
    events: bar.events.map((event, i) => (i === at.index ? change(event) : event)),
  }));

/** Likewise; a rest stays as it is. */
export const withNote = (
  score: Score,
  at: { readonly part: string; readonly bar: number; readonly index: number },
  change: (note: Note) => Note,
): Score => withEvent(score, at, (event) => (event.kind === 'note' ? change(event) : event));

/** The text with the changes made; of several at one place the first stands first. */
export const applied = (text: string, changes: readonly TextChange[]): string => {
  let result = '';
  let at = 0;
  for (const { from, to, insert } of inOrder(changes)) {
    result += text.slice(at, from) + insert;
    at = to;
  }
  return result + text.slice(at);
};

/** Changes in order of place. */
export const inOrder = (changes: readonly TextChange[]): readonly TextChange[] =>
  changes.toSorted((a, b) => a.from - b.from || a.to - b.to);
