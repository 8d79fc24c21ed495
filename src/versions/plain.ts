import {
  asWholeNotes,
  compare,
  divide,
  equals,
  formatRational,
  multiply,
  type Rational,
  rational,
  sum,
  type WholeNotes,
} from '../core/index.ts';
import { danceOfScore, type FoundOrnament, ornamentsOf, runningUnitOf } from '../fiddle/index.ts';
import { isSamePitch } from '../music/index.ts';
import {
  type Bar,
  barsOf,
  type Event,
  type Mark,
  metricalOffsetOf,
  type Note,
  placedEvents,
  type Score,
} from '../score/index.ts';
import { isNotatable, withBeams } from './beams.ts';
import { PLAIN_AS_USUAL, type PlainSwitches } from './settings.ts';
import { withSlursMended } from './slurs.ts';
import { withTrueTies } from './ties.ts';

interface PlainContext {
  readonly switches: PlainSwitches;
  /** The tune's running note. */
  readonly running: WholeNotes;
}

/** An event on its way to the plain version, with the written events that it stands for. */
interface Step {
  readonly event: Event;
  /** Index of the written event, when it stands for one alone. */
  readonly from: number | null;
  /** Whether a grace note stood before it that has gone. */
  readonly graceGone: boolean;
}

const isLongEnough = (length: Rational, context: PlainContext, notes: number): boolean =>
  compare(length, multiply(context.running, rational(notes))) >= 0;

/** Whether there is nothing to take away. */
const isBare = ({ pitches, fingers, graces, signs }: Note): boolean =>
  pitches.length === 1 && fingers.length <= 1 && graces === null && signs.length === 0;

/** One written note without what the switches take away. */
const withoutOrnaments = (note: Note, context: PlainContext): Note => {
  if (isBare(note)) return note;
  const main = context.switches.ornaments === 'main' && isLongEnough(note.length, context, 2);
  const cut = main && note.graces !== null && note.graces.pitches.length === 1;
  return {
    ...note,
    pitches: [note.pitches[0]],
    fingers: note.fingers.slice(0, 1),
    graces: cut ? note.graces : null,
    signs: main ? note.signs.filter((sign) => sign === 'roll') : [],
  };
};

const hasRoll = (note: Note): boolean => note.signs.includes('roll');

/** A held note as crotchet and quaver: two running notes and one. */
const heldInTwo = (note: Note, context: PlainContext): readonly Note[] => {
  const short = context.running;
  const long = asWholeNotes(multiply(short, rational(2)));
  const { opens, closes } = note.slurs;
  return [
    { ...note, length: long, tiedToNext: false, slurs: { opens, closes: 0 } },
    { ...note, length: short, bow: null, fingers: [], marks: [], lyric: null, slurs: { opens: 0, closes } },
  ];
};

const plainOfOne = (note: Note, context: PlainContext): readonly Note[] => {
  const bare = withoutOrnaments(note, context);
  const threeLong = equals(note.length, multiply(context.running, rational(3)));
  const asTwo = context.switches.longRoll === 'crotchetAndQuaver' && !hasRoll(bare);
  return hasRoll(note) && threeLong && asTwo ? heldInTwo(bare, context) : [bare];
};

/** Slurs that open and close around a group: inside ones apart from those that reach out of it. */
const slursAround = (notes: readonly Note[]): { opens: number; closes: number; inside: number } => {
  let opens = 0;
  let closes = 0;
  for (const note of notes) {
    const matched = Math.min(opens, note.slurs.closes);
    closes += note.slurs.closes - matched;
    opens += note.slurs.opens - matched;
  }
  const all = notes.reduce((total, note) => total + note.slurs.opens, 0);
  return { opens, closes, inside: all - opens };
};

/** The notes of a group replaced by one or two of equal length. */
const grouped = (notes: readonly Note[], context: PlainContext, count: 1 | 2): readonly Note[] => {
  const [first, last] = [notes[0], notes.at(-1)];
  if (first === undefined || last === undefined) return notes;
  const length = asWholeNotes(sum(notes.map((n) => n.length)));
  const { opens, closes, inside } = slursAround(notes);
  const tiedToNext = last.tiedToNext && isSamePitch(first.pitches[0], last.pitches[0]);
  const marks = [...new Set(notes.flatMap((n): readonly Mark[] => n.marks))];
  const head = { ...withoutOrnaments(first, context), tuplet: null, graces: null };
  if (count === 1) {
    return [{ ...head, length, marks, slurs: { opens, closes }, tiedToNext }];
  }
  const half = asWholeNotes(divide(length, rational(2)));
  const kept = Math.min(1, inside);
  return [
    { ...head, length: half, marks, slurs: { opens: opens + kept, closes: 0 }, tiedToNext: false },
    {
      ...withoutOrnaments(last, context),
      tuplet: null,
      length: half,
      marks: [],
      slurs: { opens: 0, closes: closes + kept },
    },
  ];
};

/** What a triplet, a treble or a roll written out becomes; null when it stays. */
const plainOfGroup = (
  found: FoundOrnament,
  notes: readonly Note[],
  context: PlainContext,
): readonly Note[] | null => {
  const { switches } = context;
  if (found.kind === 'longRoll' || found.kind === 'shortRoll') {
    if (switches.ornaments === 'main') return null;
    const one = grouped(notes, context, 1);
    const held = one[0];
    return switches.longRoll === 'held' || held === undefined || found.kind === 'shortRoll'
      ? one
      : heldInTwo(held, context);
  }
  if (found.kind !== 'treble' && switches.runTriplet === 'stays') return null;
  const [first, last] = [notes[0], notes.at(-1)];
  if (first === undefined || last === undefined || !isNotatable(found.length)) return null;
  const same = isSamePitch(first.pitches[0], last.pitches[0]);
  const roomForTwo = isLongEnough(found.length, context, 2);
  return grouped(notes, context, same || !roomForTwo ? 1 : 2);
};

const stepsOf = (
  bar: Bar,
  groups: ReadonlyMap<string, FoundOrnament>,
  context: PlainContext,
): readonly Step[] => {
  const placed = placedEvents(bar);
  const steps: Step[] = [];
  for (let i = 0; i < placed.length; i += 1) {
    const { event, onset } = placed[i] as (typeof placed)[number];
    if (event.kind === 'rest') {
      steps.push({ event, from: i, graceGone: false });
      continue;
    }
    const found = groups.get(formatRational(onset));
    const inside = placed.slice(i, i + (found?.events ?? 1)).map((p) => p.event);
    const notes = inside.filter((e): e is Note => e.kind === 'note');
    const group = found === undefined ? null : plainOfGroup(found, notes, context);
    const plain = group ?? plainOfOne(event, context);
    plain.forEach((note, k) => {
      const unchanged = group === null && plain.length === 1;
      const graceGone = k === 0 && event.graces !== null && note.graces === null;
      steps.push({ event: note, from: unchanged ? i : null, graceGone });
    });
    if (group !== null && found !== undefined) i += found.events - 1;
  }
  return steps;
};

const plainBar = (bar: Bar, steps: readonly Step[]): Bar => {
  const beamOf = (i: number): boolean | null => {
    const [here, next] = [steps[i]?.from ?? null, steps[i + 1]?.from ?? null];
    const follows = here !== null && next === here + 1;
    return follows ? (bar.events[here]?.beamedToNext ?? null) : null;
  };
  const events = steps.map((s) => s.event);
  return { ...bar, events: withBeams(events, bar.metre, { offset: metricalOffsetOf(bar), beamOf }) };
};

const groupsByBar = (score: Score): ReadonlyMap<string, ReadonlyMap<string, FoundOrnament>> => {
  const result = new Map<string, Map<string, FoundOrnament>>();
  for (const found of ornamentsOf(score)) {
    if (found.events < 2) continue;
    const key = `${found.address.part}/${found.address.bar}`;
    const inBar = result.get(key) ?? new Map<string, FoundOrnament>();
    inBar.set(formatRational(found.address.onset), found);
    result.set(key, inBar);
  }
  return result;
};

/**
 * All the notes: the written tune without its ornaments, the teacher's bowing kept.
 *
 * Graces, slides, drones and double stops go; rolls, trebles and triplets become the notes that they stand for, by
 * the switches. Parts, bars and addresses stay, bars keep their length; what is plain already comes back as it is.
 * @see Common practice
 */
export const plainOf = (full: Score, settings: Partial<PlainSwitches> = {}): Score => {
  const switches = { ...PLAIN_AS_USUAL, ...settings };
  let plain = full;
  for (let time = 0; time < MOST_PASSES; time += 1) {
    const groups = groupsByBar(plain);
    const next = onePass(plain, groups, switches);
    const settled = groups.size === 0 || eventCount(next) === eventCount(plain);
    plain = next;
    if (settled) break;
  }
  return withTrueTies(plain);
};

/** A replaced group may make another one beside it: four equal semiquavers hold two trebles. Ours: two passes are enough. */
const MOST_PASSES = 4;

/** How many events there are: every replaced group has fewer. */
const eventCount = (score: Score): number =>
  barsOf(score).reduce((total, { bar }) => total + bar.events.length, 0);

const onePass = (
  full: Score,
  groups: ReadonlyMap<string, ReadonlyMap<string, FoundOrnament>>,
  switches: PlainSwitches,
): Score => {
  const context = { switches, running: runningUnitOf(danceOfScore(full), full.metre) };
  const none: ReadonlyMap<string, FoundOrnament> = new Map();
  const steps = barsOf(full).map(({ bar, part, index }) =>
    stepsOf(bar, groups.get(`${part}/${index}`) ?? none, context),
  );
  const mended = withSlursMended(steps, switches.cutBetweenSlurred);
  let number = 0;
  const parts = full.parts.map((part) => {
    const bars = part.bars.map((bar) => {
      const own = mended[number] ?? [];
      number += 1;
      return plainBar(bar, own);
    });
    return { ...part, bars };
  });
  return { ...full, parts };
};
