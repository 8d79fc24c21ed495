import {
  add,
  compare,
  type MidiNumber,
  multiply,
  type Rational,
  rational,
  type Seconds,
  seconds,
  subtract,
} from '../core/index.ts';
import { flickAbove, nextAbove, nextBelow, runningUnitOf } from '../fiddle/index.ts';
import { type Dance, midiOf } from '../music/index.ts';
import type { Clock } from './clock.ts';
import {
  FLICK,
  GRACE_RUN_NOTE,
  LEVELS,
  MAIN_NOTE_SHARE,
  SLIDE,
  STACCATO_SHARE,
  TRILL_NOTE,
  TURN_NOTE,
} from './data.ts';
import { levelAt, withinLevels } from './levels.ts';
import type { Stroke } from './strokes.ts';
import type { Attack, TimedNote } from './timeline.ts';

/** One sound of the melody, on its way. */
interface Sound {
  readonly midi: MidiNumber;
  readonly start: number;
  readonly end: number;
  readonly attack: Attack;
  /** Index among the written grace notes. */
  readonly grace?: number;
}

/** A flick at the start of a stretch and the main note after it. */
const flicked = (
  kind: 'cut' | 'strike',
  flick: MidiNumber,
  main: MidiNumber,
  [start, end]: readonly [number, number],
): readonly Sound[] => {
  const until = start + Math.min(FLICK, (end - start) * (1 - MAIN_NOTE_SHARE));
  return [
    { midi: flick, start, end: until, attack: kind },
    { midi: main, start: until, end, attack: 'afterFlick' },
  ];
};

/** Written grace notes: they take their time from the note that they stand before. */
const graced = (stroke: Stroke): readonly Sound[] => {
  const { note, start, end } = stroke;
  const main = midiOf(note.pitches[0]);
  const pitches = note.graces?.pitches ?? [];
  const each = pitches.length > 2 ? GRACE_RUN_NOTE : FLICK;
  const time = Math.min(each * pitches.length, (end - start) * (1 - MAIN_NOTE_SHARE));
  const step = time / pitches.length;
  const flicks = pitches.map((pitch, i): Sound => {
    const midi = midiOf(pitch);
    const from = start + i * step;
    return { midi, start: from, end: from + step, attack: midi < main ? 'strike' : 'cut', grace: i };
  });
  return [...flicks, { midi: main, start: start + time, end, attack: 'afterFlick' }];
};

/** The moments that part a roll: a long one goes by running notes, a short one by halves. */
const rollTimes = (stroke: Stroke, clock: Clock, running: Rational): readonly [number, number] => {
  const { bar, laid } = stroke;
  const stop = add(laid.onset, laid.length);
  const long = compare(laid.length, multiply(running, rational(3))) >= 0;
  const second = long ? subtract(stop, multiply(running, rational(2))) : laid.onset;
  const third = long ? subtract(stop, running) : add(laid.onset, multiply(laid.length, rational(1, 2)));
  return [clock.timeAt(bar, second), clock.timeAt(bar, third)];
};

const rolled = (stroke: Stroke, clock: Clock, running: Rational): readonly Sound[] => {
  const { note, bar, laid, start, end, attack } = stroke;
  const main = midiOf(note.pitches[0]);
  const cut = midiOf(flickAbove(note.pitches[0], bar.bar.key));
  const strike = midiOf(nextBelow(note.pitches[0], bar.bar.key));
  if (compare(laid.length, multiply(running, rational(2))) < 0)
    return flicked('cut', cut, main, [start, end]);
  const [second, third] = rollTimes(stroke, clock, running);
  const head: readonly Sound[] = second > start ? [{ midi: main, start, end: second, attack }] : [];
  return [
    ...head,
    ...flicked('cut', cut, main, [second, third]),
    ...flicked('strike', strike, main, [third, end]),
  ];
};

/** Trill, turn and mordents: quick neighbours first, the note itself for the rest of its time. */
const shaken = (stroke: Stroke, sign: string): readonly Sound[] => {
  const { note, bar, start, end, attack } = stroke;
  const main = midiOf(note.pitches[0]);
  const above = midiOf(nextAbove(note.pitches[0], bar.bar.key));
  const below = midiOf(nextBelow(note.pitches[0], bar.bar.key));
  const room = (end - start) * (1 - MAIN_NOTE_SHARE);
  const pairs = Math.max(1, Math.floor(room / (2 * TRILL_NOTE)));
  const quick: readonly MidiNumber[] =
    sign === 'trill'
      ? Array.from({ length: 2 * pairs }, (_, i) => (i % 2 === 0 ? main : above))
      : sign === 'turn'
        ? [above, main, below]
        : [main, sign === 'upperMordent' ? above : below];
  const step = Math.min(sign === 'trill' ? TRILL_NOTE : TURN_NOTE, room / quick.length);
  const sounds = quick.map((midi, i): Sound => {
    const from = start + i * step;
    return { midi, start: from, end: from + step, attack: i === 0 ? attack : 'slur' };
  });
  return [...sounds, { midi: main, start: start + quick.length * step, end, attack: 'slur' }];
};

const soundsOf = (stroke: Stroke, clock: Clock, running: Rational): readonly Sound[] => {
  const { note, start, end, attack } = stroke;
  if (note.signs.includes('roll')) return rolled(stroke, clock, running);
  if (note.graces !== null) return graced(stroke);
  const sign = note.signs.find((s) => s !== 'roll' && s !== 'slide');
  if (sign !== undefined) return shaken(stroke, sign);
  return [{ midi: midiOf(note.pitches[0]), start, end, attack }];
};

const glide = (note: Stroke['note'], length: number): Pick<TimedNote, 'glideFrom' | 'glideTime'> =>
  note.signs.includes('slide')
    ? { glideFrom: SLIDE.from, glideTime: seconds(Math.min(SLIDE.time, length * (1 - MAIN_NOTE_SHARE))) }
    : {};

const shortened = (stroke: Stroke): Stroke =>
  stroke.note.marks.includes('staccato')
    ? { ...stroke, end: stroke.start + (stroke.end - stroke.start) * STACCATO_SHARE }
    : stroke;

/**
 * One written note as it sounds: its ornaments played out in milliseconds, the tones beside it, level and attack.
 *
 * The beat does not move: graces begin where the note stands and take their time from it, half of it at most. Rolls are
 * spread over the written length; their flicks keep their time.
 */
export const playedNote = (written: Stroke, clock: Clock, dance: Dance): readonly TimedNote[] => {
  const stroke = shortened(written);
  const { note, bar, laid, address } = stroke;
  const running = runningUnitOf(dance, bar.bar.metre);
  const accent = note.marks.includes('accent') ? LEVELS.accent : 0;
  const level = levelAt(bar, laid.onset, dance) + accent;
  const sounds = soundsOf(stroke, clock, running);
  const main = sounds.findIndex((s) => s.midi === midiOf(note.pitches[0]));
  const melody = sounds.map((sound, i): TimedNote => {
    const length = seconds(sound.end - sound.start);
    const flick = sound.attack === 'cut' || sound.attack === 'strike';
    return {
      voice: 'fiddle',
      start: seconds(sound.start),
      length,
      midi: sound.midi,
      level: withinLevels(level - (sound.attack === 'slur' ? LEVELS.slurred : 0)),
      attack: sound.attack,
      ...(flick && i === 0 && stroke.attack === 'bow' ? { newBow: true as const } : {}),
      ...(i === main ? glide(note, length) : {}),
      address: sound.grace === undefined ? address : { ...address, grace: sound.grace },
      pass: bar.pass,
    };
  });
  const beside = note.pitches.slice(1).map(
    (pitch, i): TimedNote => ({
      voice: 'fiddle',
      start: seconds(stroke.start),
      length: (stroke.end - stroke.start) as Seconds,
      midi: midiOf(pitch),
      level: withinLevels(level - LEVELS.beside),
      attack: stroke.attack,
      beside: true,
      address: { ...address, tone: i + 1 },
      pass: bar.pass,
    }),
  );
  return [...melody, ...beside];
};
