import {
  add,
  asWholeNotes,
  compare,
  equals,
  floorOf,
  isMultipleOf,
  minOf,
  multiply,
  type Rational,
  rational,
  subtract,
  toNumber,
  ZERO,
} from '../../../core/index.ts';
import { barLengthOf, type Key, type Metre, notatedBeatOf } from '../../../music/index.ts';
import { type Event, type LooseBar, plainNote } from '../../../score/index.ts';
import { closeTuplets, type LooseEvent } from '../../closeTuplets.ts';
import type { GridNote } from './onGrid.ts';
import { spelled } from './spell.ts';

/** A metre and the crotchet at which it begins. */
export interface MetreChange {
  readonly at: Rational;
  readonly metre: Metre;
}

/** A stretch of time that is one bar, in crotchets. */
interface Frame {
  readonly from: Rational;
  readonly to: Rational;
  readonly metre: Metre;
}

const QUARTER = rational(1, 4);
/** A key let go this long before the next, in crotchets, leaves a rest if half its time is silent. Ours. */
const REST = 0.45;
/** A last note that lasts less than this part of one more bar only rings into it. Ours. */
const RINGING = 0.5;
/** A bar that begins with so much silence begins with a pick-up. Ours. */
const PICKUP_SILENCE = 0.5;

const crotchetsIn = (metre: Metre): Rational => multiply(barLengthOf(metre) ?? rational(1), rational(4));

/** The last note's end on the grid: at least a semiquaver after its onset. */
const endOf = ({ onset, released }: GridNote): Rational =>
  rational(Math.max(Math.round(released * 4), 1 + floorOf(multiply(onset, rational(4)))), 4);

/** More bars than any tune has, as played: what lies beyond is left out. Ours. */
const MOST_BARS = 2000;

/** Bars up to an end. A first bar that is shorter than the metre after it is a pick-up of that metre. */
const framesUntil = (end: Rational, changes: readonly MetreChange[]): readonly Frame[] => {
  const frames: Frame[] = [];
  let from: Rational = ZERO;
  while (compare(from, end) < 0 && frames.length < MOST_BARS) {
    const upcoming = changes.find(({ at }) => compare(at, from) > 0);
    const current = changes.findLast(({ at }) => compare(at, from) <= 0) ?? changes[0];
    if (current === undefined) return frames;
    const whole = add(from, crotchetsIn(current.metre));
    const to = upcoming === undefined ? whole : minOf(whole, upcoming.at);
    const shorter =
      frames.length === 0 &&
      upcoming !== undefined &&
      compare(to, upcoming.at) === 0 &&
      compare(crotchetsIn(current.metre), crotchetsIn(upcoming.metre)) < 0;
    frames.push({ from, to, metre: shorter ? upcoming.metre : current.metre });
    from = to;
  }
  return frames;
};

/** Frames without silence before the tune: empty bars go, a first bar that begins late is a pick-up. */
const withoutLead = (frames: readonly Frame[], first: Rational): readonly Frame[] => {
  const at = frames.findIndex(({ to }) => compare(to, first) > 0);
  const [opening, ...others] = frames.slice(Math.max(0, at));
  if (opening === undefined) return frames;
  const silence = toNumber(subtract(first, opening.from));
  const all = toNumber(subtract(opening.to, opening.from));
  return [silence >= PICKUP_SILENCE * all ? { ...opening, from: first } : opening, ...others];
};

interface Sounding {
  readonly note: GridNote;
  readonly from: Rational;
  readonly to: Rational;
}

/** How long each note is held: to the next one, or to where its key is let go well before that. */
const soundings = (notes: readonly GridNote[], end: Rational): readonly Sounding[] =>
  notes.map((note, i) => {
    const next = notes[i + 1]?.onset ?? end;
    const span = toNumber(subtract(next, note.onset));
    const held = Math.max(0, note.released - toNumber(note.onset));
    if (span - held < REST || held > span / 2) return { note, from: note.onset, to: next };
    const parts = Math.max(1, Math.round(held * 4));
    return { note, from: note.onset, to: minOf(next, add(note.onset, multiply(QUARTER, rational(parts)))) };
  });

const inThirds = (time: Rational): boolean => time.den % 3 === 0;

/** A stretch cut where a triplet's crotchet ends. */
const cutAtCrotchets = (from: Rational, to: Rational): readonly (readonly [Rational, Rational])[] => {
  const boundary = rational(floorOf(from) + 1);
  const crosses = compare(boundary, to) < 0;
  if (!crosses || (!inThirds(from) && !inThirds(to))) return [[from, to]];
  return [[from, boundary], ...cutAtCrotchets(boundary, to)];
};

const looseOf = (event: Event, length: Rational): LooseEvent => ({
  event,
  ratio: inThirds(length) ? { actual: 3, normal: 2 } : null,
  bracketStarts: false,
  bracketStops: false,
});

const restOf = (from: Rational, to: Rational): readonly LooseEvent[] =>
  cutAtCrotchets(from, to).map(([a, b]) => {
    const length = subtract(b, a);
    const rest: Event = {
      kind: 'rest',
      length: asWholeNotes(multiply(length, QUARTER)),
      visible: true,
      tuplet: null,
      beamedToNext: false,
      marks: [],
    };
    return looseOf(rest, length);
  });

/** A note's pieces within a bar, tied to each other, and to the next bar where it goes on. */
const piecesOf = ({ note, from, to }: Sounding, frame: Frame, key: Key): readonly LooseEvent[] => {
  const start = compare(from, frame.from) < 0 ? frame.from : from;
  const pieces = cutAtCrotchets(start, minOf(to, frame.to));
  const [top = 60, ...beside] = note.keys.map((k) => spelled(k, key));
  return pieces.map(([a, b], i) => {
    const length = subtract(b, a);
    const graces = note.graces.map((k) => spelled(k, key));
    const [firstGrace, ...moreGraces] = i === 0 && compare(start, from) === 0 ? graces : [];
    const event: Event = {
      ...plainNote(top === 60 ? spelled(60, key) : top, asWholeNotes(multiply(length, QUARTER))),
      graces: firstGrace === undefined ? null : { pitches: [firstGrace, ...moreGraces], slashed: false },
      tiedToNext: i < pieces.length - 1 || compare(to, frame.to) > 0,
    };
    const pitches = [event.pitches[0], ...beside] as const;
    return looseOf({ ...event, pitches }, length);
  });
};

/** How far into its bar a frame begins: a pick-up is the end of one. */
const offsetIn = ({ from, to, metre }: Frame): Rational => {
  const missing = subtract(crotchetsIn(metre), subtract(to, from));
  return missing.num > 0 ? multiply(missing, QUARTER) : ZERO;
};

/** Notes under one beam: half a bar of four crotchets, else a beat. Common practice. */
const beamLength = (metre: Metre): Rational =>
  metre.kind === 'measured' && equals(barLengthOf(metre) ?? ZERO, rational(1))
    ? rational(1, 2)
    : notatedBeatOf(metre);

const beamed = (events: readonly Event[], metre: Metre, offset: Rational): readonly Event[] => {
  const group = beamLength(metre);
  let at = offset;
  return events.map((event, i) => {
    at = add(at, event.length);
    const next = events[i + 1];
    const flagged =
      compare(event.length, QUARTER) < 0 && next !== undefined && compare(next.length, QUARTER) < 0;
    return { ...event, beamedToNext: flagged && !isMultipleOf(at, group) };
  });
};

const barOf = (frame: Frame, sounding: readonly Sounding[], key: Key): LooseBar => {
  const events: LooseEvent[] = [];
  let at = frame.from;
  for (const held of sounding) {
    if (compare(held.to, frame.from) <= 0 || compare(held.from, frame.to) >= 0) continue;
    if (compare(held.from, at) > 0) events.push(...restOf(at, held.from));
    events.push(...piecesOf(held, frame, key));
    at = minOf(held.to, frame.to);
  }
  if (compare(at, frame.to) < 0) events.push(...restOf(at, frame.to));
  return {
    events: beamed(closeTuplets(events), frame.metre, offsetIn(frame)),
    key,
    metre: frame.metre,
    repeatStart: 0,
    repeatEnd: 0,
    line: 'single',
    ending: null,
    chords: [],
    annotations: [],
    fields: [],
    tempo: null,
    lineEnd: false,
    partLabel: null,
  };
};

/** The notes of a voice in bars, as played. */
export const barsFrom = (
  notes: readonly GridNote[],
  changes: readonly MetreChange[],
  key: Key,
): readonly LooseBar[] => {
  const [first, last] = [notes[0], notes.at(-1)];
  if (first === undefined || last === undefined) return [];
  const frames = framesUntil(endOf(last), changes).filter(
    ({ from, to }) =>
      compare(from, last.onset) <= 0 ||
      last.released - toNumber(from) > RINGING * toNumber(subtract(to, from)),
  );
  const end = frames.at(-1)?.to ?? last.onset;
  const sounding = soundings(notes, end);
  return withoutLead(frames, first.onset).map((frame) => barOf(frame, sounding, key));
};
