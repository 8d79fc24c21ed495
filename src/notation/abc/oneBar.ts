import type { Diagnostic, WholeNotes } from '../../core/index.ts';
import { formatMetre, type Key, type Metre } from '../../music/index.ts';
import type { Bar, Event } from '../../score/index.ts';
import { accidentalsIn } from './accidentals.ts';
import { readAbc } from './book.ts';
import { writeKey } from './keyField.ts';
import { writeBarEvents } from './writeBar.ts';

/** What a bar is read in: key and metre at its start and the unit note length of its tune. */
export interface BarSetting {
  readonly key: Key;
  readonly metre: Metre;
  readonly unit: WholeNotes;
}

/** A bar that was typed alone, or why it is none. Spans count from the text's start. */
export type ReadBar =
  | { readonly kind: 'bar'; readonly events: readonly Event[]; readonly diagnostics: readonly Diagnostic[] }
  | { readonly kind: 'problem'; readonly diagnostics: readonly Diagnostic[] };

const problem = (code: string, message: string, hint: string): ReadBar => ({
  kind: 'problem',
  diagnostics: [{ code, severity: 'error', message, hint }],
});

/** Bar lines around a bar that was copied with them. */
const LINES_AROUND = /^\s*\[?[|:]+|[|:]*\|[|:\]]*\s*$/g;
/** A line that the reader would take for a field, a comment or a directive. */
const FIELD = /^\s*(?:[A-Za-z+]:|%)/;

/** What the reader says of whole tunes: a pick-up or a last bar is rightly short, a tie may lead on to the next bar. */
const OF_TUNES: ReadonlySet<string> = new Set(['bar-too-long', 'bar-too-short', 'no-music']);
const TIE_OUT = { code: 'tie-leads-nowhere', sign: /-\)*\s*$/ };

const headerFor = ({ key, metre, unit }: BarSetting): string =>
  ['X:1', 'T:One bar', `M:${formatMetre(metre)}`, `L:${unit.num}/${unit.den}`, `K:${writeKey(key)}`, ''].join(
    '\n',
  );

/**
 * Reads one bar that stands alone, as typed in answer to "what should be here?".
 *
 * How long it must be is the asker's affair: nothing is said about that here.
 * @param text - one bar in ABC, with or without bar lines around it
 */
export const readAbcBar = (text: string, setting: BarSetting): ReadBar => {
  const music = text.replace(LINES_AROUND, (line) => ' '.repeat(line.length));
  if (/[\r\n]/.test(text.trim()))
    return problem('bar-on-lines', 'A bar is one line.', 'Take the line break out.');
  if (FIELD.test(music) || music.includes('%'))
    return problem(
      'bar-is-field',
      'This is a field or a comment, not a bar.',
      'Write the notes alone, as in "d2 f2".',
    );
  if (music.includes('|'))
    return problem('bar-is-several', 'These are several bars.', 'Write one bar at a time.');
  const header = headerFor(setting);
  const [tune] = readAbc(`${header}${music}|\n`).tunes;
  const at = (offset: number): number => Math.min(Math.max(offset - header.length, 0), text.length);
  const tiedOut = TIE_OUT.sign.test(music);
  const diagnostics = (tune?.diagnostics ?? [])
    .filter((d) => !OF_TUNES.has(d.code) && !(tiedOut && d.code === TIE_OUT.code))
    .map((d): Diagnostic => {
      const { span } = d;
      return span === undefined ? d : { ...d, span: { start: at(span.start), end: at(span.end) } };
    });
  if (diagnostics.some((d) => d.severity === 'error')) return { kind: 'problem', diagnostics };
  const read = tune?.score.parts.flatMap((part) => part.bars).flatMap((bar) => bar.events) ?? [];
  const last = read.at(-1);
  if (last === undefined)
    return problem(
      'bar-empty',
      'There is no note and no rest in this bar.',
      'Write notes, as in "d2 f2 a2 f2".',
    );
  const tied = tiedOut && last.kind === 'note' ? { ...last, tiedToNext: true } : last;
  return { kind: 'bar', events: [...read.slice(0, -1), tied], diagnostics };
};

/** The events of a bar in ABC, as they would be typed: no bar lines, chords over the staff or fields. */
export const writeAbcBar = (bar: Bar, unit: WholeNotes): string => {
  const hand = { accidentals: accidentalsIn('pitch'), key: bar.key, unit, lastNote: null };
  const bare = { ...bar, chords: [], annotations: [], fields: [] };
  const { pieces } = writeBarEvents(hand, bare, { crossing: [], tupletLeft: 0, isLast: true });
  return pieces
    .map((piece) => piece.text)
    .join('')
    .trim();
};
