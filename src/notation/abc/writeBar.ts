import { add, asWholeNotes, compare, equals, type Rational, subtract, ZERO } from '../../core/index.ts';
import type { Annotation, Bar, Event, Field } from '../../score/index.ts';
import { readKey } from './keyField.ts';
import { encodeQuoted, encodeText } from './text.ts';
import { brokenPair, type Hand, writeEvent, writeLength, writeTuplet } from './writeNote.ts';

/** A piece of a line of music: what stands in it, or a line of its own that the music goes around. */
export type Piece =
  | { readonly kind: 'music'; readonly text: string }
  | { readonly kind: 'ownLine'; readonly text: string };

/** Fields that may stand between brackets. Source: ABC standard 2.1, section 3 (table of fields, column "inline"). */
const INLINE_CODES = 'IKLMNPQRr';

const PLACE_SIGNS: Readonly<Record<Annotation['place'], string>> = {
  above: '^',
  below: '_',
  left: '<',
  right: '>',
  free: '@',
};

/** A field, comment or directive as a line of its own. */
export const writeFieldLine = ({ code, value }: Field): string => {
  if (code === '%') return `% ${value}`.trim();
  if (code === '%%') return `%%${value}`;
  const text = 'KMQ'.includes(code) ? value : encodeText(value);
  // "C:|" would be a bar's end.
  return `${code}:${/^[|:]/.test(text) ? ' ' : ''}${text}`;
};

const fieldPiece = (field: Field): Piece => {
  const inline = INLINE_CODES.includes(field.code) && !field.value.includes(']');
  const line = writeFieldLine(field);
  return inline ? { kind: 'music', text: `[${line}]` } : { kind: 'ownLine', text: line };
};

const textsAt = (bar: Bar, onset: Rational): string =>
  bar.chords
    .filter((c) => equals(c.onset, onset))
    .map((c) => `"${encodeQuoted(c.text)}"`)
    .join('') +
  bar.annotations
    .filter((a) => equals(a.onset, onset))
    .map((a) => `"${PLACE_SIGNS[a.place]}${encodeQuoted(a.text)}"`)
    .join('');

/** How many events from `at` on belong to the tuplet that begins there. */
const tupletRun = (events: readonly Event[], at: number, crossing: readonly Event[]): number => {
  const all = [...events.slice(at), ...crossing];
  const first = all[0]?.tuplet ?? null;
  let count = 0;
  for (const event of all) {
    const tuplet = event.tuplet;
    if (first === null || tuplet === null || count === first.count) break;
    const follows = count === 0 || tuplet.index > 0;
    if (!follows || tuplet.actual !== first.actual || tuplet.normal !== first.normal) break;
    count += 1;
  }
  return count;
};

/** Chord symbols that stand over no event of the bar: written over spacer rests beside the melody. */
const chordsBetween = (bar: Bar, onsets: readonly Rational[], unit: Rational): string => {
  const end = onsets.at(-1) ?? ZERO;
  const loose = bar.chords.filter(
    (c) => !onsets.some((o) => equals(o, c.onset)) && compare(c.onset, end) < 0,
  );
  if (loose.length === 0) return '';
  const first = loose[0]?.onset ?? ZERO;
  const rests = loose.map((chord, i) => {
    const until = loose[i + 1]?.onset ?? end;
    const name = `"${encodeQuoted(chord.text)}"`;
    const length = subtract(until, chord.onset);
    return length.num === 0 ? name : `${name}x${writeLength(length, unit)}`;
  });
  return ` & x${writeLength(first, unit)} ${rests.join(' ')} `;
};

/** What a bar needs to know beyond itself. */
export interface BarPlace {
  /** Events of the bars behind, for tuplets that cross the line; empty where the next begins anew. */
  readonly crossing: readonly Event[];
  /** Notes still to come of a tuplet that was opened before. */
  readonly tupletLeft: number;
  readonly isLast: boolean;
}

/** The bar's events with what stands over and between them; its bar line is not part of it. */
export const writeBarEvents = (
  hand: Hand,
  bar: Bar,
  place: BarPlace,
): { readonly pieces: readonly Piece[]; readonly tupletLeft: number } => {
  const pieces: Piece[] = [];
  const onsets: Rational[] = [];
  let onset: Rational = ZERO;
  let { tupletLeft } = place;
  let base: Rational | undefined;
  bar.events.forEach((event, i) => {
    onsets.push(onset);
    if (i > 0) pieces.push(...fieldsAt(hand, bar, onset));
    let text = '';
    if (event.tuplet === null) tupletLeft = 0;
    else if (tupletLeft === 0) {
      tupletLeft = tupletRun(bar.events, i, place.crossing);
      text += writeTuplet(event.tuplet, tupletLeft);
    }
    if (tupletLeft > 0) tupletLeft -= 1;
    const broken = base === undefined ? brokenPair(event, bar.events[i + 1], hand.unit) : null;
    text += writeEvent(hand, event, textsAt(bar, onset), base ?? broken?.base);
    base = broken?.base;
    text += broken?.sign ?? (event.beamedToNext || i === bar.events.length - 1 ? '' : ' ');
    pieces.push({ kind: 'music', text });
    onset = add(onset, event.length);
  });
  onsets.push(onset);
  if (!place.isLast) pieces.push(...fieldsAt(hand, bar, onset));
  else pieces.push({ kind: 'music', text: textsAt(bar, onset) });
  pieces.push({ kind: 'music', text: chordsBetween(bar, onsets, hand.unit) });
  return { pieces, tupletLeft };
};

/** Fields inside the bar; a key among them holds from there on. */
const fieldsAt = (hand: Hand, bar: Bar, onset: Rational): readonly Piece[] =>
  bar.fields
    .filter((f) => equals(f.onset, asWholeNotes(onset)))
    .map((field) => {
      if (field.code === 'K') hand.key = readKey(field.value).key ?? hand.key;
      return fieldPiece(field);
    });

/** Fields that stand before the bar's first event. */
export const fieldsBefore = (bar: Bar): readonly Piece[] =>
  bar.fields.filter((f) => f.onset.num === 0).map(fieldPiece);

/** Fields behind the last bar, each on its own line. */
export const fieldsBehind = (bar: Bar): readonly string[] => {
  const end = bar.events.reduce<Rational>((at, event) => add(at, event.length), ZERO);
  return bar.fields.filter((f) => f.onset.num !== 0 && equals(f.onset, end)).map(writeFieldLine);
};
