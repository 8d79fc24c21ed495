/** What one reader found at one note or rest. */
export interface NoteFact {
  /** Offset in the tune's text of the note's own letter, as near as the reader says. */
  readonly start: number;
  readonly end: number;
  /** Sounding MIDI numbers, lowest first; empty for a rest. */
  readonly pitches: readonly number[];
  /** Played length in whole notes. */
  readonly length: number;
  readonly tied: boolean;
  /** "3:2" in a tuplet. */
  readonly tuplet: string;
  /** MIDI numbers of the grace notes before it. */
  readonly graces: readonly number[];
  /** Accidentals of the key in force ("F# C#"). */
  readonly key: string;
  readonly metre: string;
  /** Bar lines since the note before: ":|" for dots, and the line. */
  readonly bar: string;
  /** Passes of the ending that begins here. */
  readonly ending: string;
}

/** What one reader found in one tune; `closing` is the bar line behind the last note. */
export interface TuneFacts {
  readonly notes: readonly NoteFact[];
  readonly closing: string;
}

/** A bar line as both readers can say it. */
export const barText = (line: string, repeatEnd: boolean, repeatStart: boolean): string =>
  `${repeatEnd ? ':' : ''}${repeatEnd || repeatStart ? '|' : line}${repeatStart ? ':' : ''}`;

/** "1,2,3" for "1-3"; "1,3" as it stands. */
export const passesText = (written: string): string => {
  const range = /^(\d+)-(\d+)$/.exec(written);
  if (range === null) return written.replaceAll(/\s/g, '');
  const [from, to] = [Number(range[1]), Number(range[2])];
  return Array.from({ length: Math.max(0, to - from + 1) }, (_, i) => from + i).join(',');
};
