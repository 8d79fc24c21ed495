import type { WholeNotes } from '../core/index.ts';
import type { Chord, Key, Metre } from '../music/index.ts';
import type { Event } from './event.ts';

/** A field or comment that is kept as written. `code` is the field's letter, "%" for a comment, "%%" for a directive. */
export interface Field {
  readonly code: string;
  readonly value: string;
}

/** `Q:` as read: a beat and its number a minute, and the words that go with it. */
export interface Tempo {
  readonly beat: WholeNotes | null;
  readonly beatsPerMinute: number | null;
  readonly words: string;
}

/** A chord symbol over a bar: holds until the next one. */
export interface ChordSymbol {
  readonly onset: WholeNotes;
  readonly chord: Chord;
  /** As written. */
  readonly text: string;
}

/** Other text over or under the staff (an ABC annotation). */
export interface Annotation {
  readonly onset: WholeNotes;
  readonly place: 'above' | 'below' | 'left' | 'right' | 'free';
  readonly text: string;
}

/** The line that closes a bar. `none`: the bar goes on after a line break or the tune stops without a line. */
export type BarLine =
  | 'single'
  | 'double'
  | 'final'
  | 'heavyDouble'
  | 'startHeavy'
  | 'dotted'
  | 'invisible'
  | 'none';

/**
 * Which bar of the count a written bar is.
 *
 * `full`: a bar of its own, also when short of its metre. `pickup`: notes before a numbered bar. `rest-of-bar`: what
 * follows when a bar is split by a repeat or double bar, an ending, or a line break without a bar line; it shares the
 * number of the bar it completes and has none of its own.
 */
export type BarRole = 'full' | 'pickup' | 'restOfBar';

/** When another way of playing a bar takes its place: every second time that the bar comes, every time, or never. */
export type WayPlayed = 'secondTimes' | 'everyTime' | 'never';

/** Another way to play a bar, kept beside it. */
export interface BarWay {
  /** As long as the bar's own. */
  readonly events: readonly Event[];
  readonly played: WayPlayed;
  /** Shown as a small bar of its own where the music is printed. */
  readonly printed: boolean;
}

/** A bar as written. */
export interface Bar {
  readonly events: readonly Event[];
  /** In force at its start. */
  readonly key: Key;
  /** In force at its start. */
  readonly metre: Metre;
  readonly role: BarRole;
  /** Printed number, counted over printed bars from 1; null for pick-ups and rests of bars. */
  readonly number: number | null;
  /** How often a repeat that starts here was marked: 0 no start, 1 `|:`, 2 `|::`. */
  readonly repeatStart: number;
  /** 0 no repeat end, 1 `:|` (played twice), 2 `::|` (three times). */
  readonly repeatEnd: number;
  readonly line: BarLine;
  /** Passes for which the ending that starts here is played ([1, 3]); null where no ending starts. */
  readonly ending: readonly number[] | null;
  readonly chords: readonly ChordSymbol[];
  readonly annotations: readonly Annotation[];
  /** Fields and comments that stand before or inside the bar and change nothing we model (`N:`, `%`, …). */
  readonly fields: readonly (Field & { readonly onset: WholeNotes })[];
  /** The tempo that starts here (`Q:` in the body). */
  readonly tempo: Tempo | null;
  /** A written line of music ends after this bar. */
  readonly lineEnd: boolean;
  /** Other ways to play it, in the teacher's order; absent: none. Nothing but playing and printing looks at them. */
  readonly ways?: readonly BarWay[];
}

/** A part of the tune: A, B … */
export interface Part {
  /** Unique in the tune: "A", "B", …; as written in `P:` or given in order. */
  readonly label: string;
  /** Whether the tune says the label itself (`P:`); else it was judged from double bars, repeats and phrases. */
  readonly named: boolean;
  readonly bars: readonly Bar[];
}

/** One version of one tune: what was written, in order of writing. */
export interface Score {
  /** `X:`. */
  readonly number: number;
  /** Header fields other than X M L Q K P, in order: titles, composer, source, remarks … */
  readonly fields: readonly Field[];
  readonly metre: Metre;
  readonly key: Key;
  /** Unit note length (`L:`), for writing. */
  readonly unit: WholeNotes;
  readonly tempo: Tempo | null;
  /** Order of parts from the header's `P:`, letters expanded; null: as the repeats say. */
  readonly partOrder: readonly string[] | null;
  readonly parts: readonly Part[];
}

/** Values of all header fields with that letter, in order. */
export const fieldsOf = (score: Score, code: string): readonly string[] =>
  score.fields.filter((f) => f.code === code).map((f) => f.value);

/** The first title, or "Untitled". */
export const titleOf = (score: Score): string =>
  fieldsOf(score, 'T').find((t) => t.trim() !== '') ?? 'Untitled';
