import { asWholeNotes, compare, type Rational, rational, subtract, ZERO } from '../core/index.ts';
import { formatChord } from '../music/index.ts';
import type { SeamEvent } from '../perform/index.ts';
import type { Bar, ChordSymbol, Event, Note, Score } from '../score/index.ts';
import type { Corner, TuneInSet } from './setOf.ts';

/** Note values that are written with one head, longest first: plain and dotted. */
const VALUES: readonly Rational[] = [1, 2, 4, 8, 16, 32].flatMap((den) => [
  ...(den < 32 ? [rational(3, den * 2)] : []),
  rational(1, den),
]);

/** A length as values of one head each, tied to one another. */
const inValues = (length: Rational): readonly Rational[] => {
  const found: Rational[] = [];
  let left = length;
  while (compare(left, ZERO) > 0) {
    const value = VALUES.toSorted((a, b) => compare(b, a)).find((v) => compare(v, left) <= 0);
    if (value === undefined) break;
    found.push(value);
    left = subtract(left, value);
  }
  return found;
};

/** The event as it is played here; as several tied ones where no single value is so long. */
const writtenOut = ({ event, length }: SeamEvent, endsTune: boolean): readonly Event[] => {
  const beamedToNext = event.beamedToNext && !endsTune;
  if (event.tuplet !== null) return [{ ...event, beamedToNext }];
  const values = inValues(length);
  return values.map((value, i): Event => {
    const own = asWholeNotes(value);
    if (event.kind === 'rest') return { ...event, length: own, beamedToNext: false };
    const last = i === values.length - 1;
    const note: Note = { ...event, length: own, beamedToNext: last && beamedToNext };
    const tied = last ? event.tiedToNext && !endsTune : true;
    if (i === 0) return { ...note, tiedToNext: tied };
    return { ...note, tiedToNext: tied, graces: null, signs: [], fingers: [], bow: null, lyric: null };
  });
};

/** Slurs that begin or end outside of the bar are left out. */
const withWholeSlurs = (events: readonly Event[]): readonly Event[] => {
  const open: number[] = [];
  const slurs = events.map((event) => (event.kind === 'note' ? { ...event.slurs } : { opens: 0, closes: 0 }));
  slurs.forEach((slur, i) => {
    const closes = Math.min(slur.closes, open.length);
    open.length -= closes;
    slur.closes = closes;
    for (let n = 0; n < slur.opens; n += 1) open.push(i);
  });
  for (const i of open) {
    const slur = slurs[i];
    if (slur !== undefined) slur.opens -= 1;
  }
  return events.map((event, i) =>
    event.kind === 'note' ? { ...event, slurs: slurs[i] ?? { opens: 0, closes: 0 } } : event,
  );
};

/** The tune's own chords up to the one that turns the corner. */
const chordsOver = ({ lesson }: TuneInSet, { seam, turn, goesOn }: Corner): readonly ChordSymbol[] => {
  const at = turn === null || goesOn ? seam.length : subtract(seam.length, turn.before);
  const own = lesson.chords
    .filter(({ part, bar, onset }) => part === seam.part && bar === seam.index && compare(onset, at) < 0)
    .map(({ onset, chord }) => ({ onset, chord, text: formatChord(chord) }));
  if (turn === null || goesOn) return own;
  return [...own, { onset: asWholeNotes(at), chord: turn.chord, text: formatChord(turn.chord) }];
};

/**
 * The bar that leads out of a tune, as a sheet prints it: its last bar with the next tune's pick-up and the turning chord.
 * @returns a score of this one bar; null behind the last tune
 */
export const cornerScoreOf = (tune: TuneInSet): Score | null => {
  const { corner, version } = tune;
  if (corner === null) return null;
  const { seam } = corner;
  const events = seam.events.flatMap((one, i) =>
    writtenOut(one, !one.next && seam.events[i + 1]?.next !== false),
  );
  const bar: Bar = {
    ...seam.bar,
    events: withWholeSlurs(events),
    role: 'full',
    number: null,
    repeatStart: 0,
    repeatEnd: 0,
    line: 'double',
    ending: null,
    chords: chordsOver(tune, corner),
    annotations: [],
    fields: [],
    tempo: null,
    lineEnd: true,
  };
  return { ...version.score, partOrder: null, parts: [{ label: 'A', named: false, bars: [bar] }] };
};
