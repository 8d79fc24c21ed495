import { add, asWholeNotes } from '../core/index.ts';
import { type FoundOrnament, ornamentsOf } from '../fiddle/index.ts';
import { type Dance, midiOf } from '../music/index.ts';
import { type Address, addressKey, type Event, type Note, type Score } from '../score/index.ts';
import type { Clock } from './clock.ts';
import { SLOW_TREBLE, TREBLE } from './data.ts';
import type { LaidBar, LaidEvent, Layout } from './layout.ts';

/** A melody note with its time, before its ornaments are played out: tied notes are one. */
export interface Stroke {
  readonly note: Note;
  readonly bar: LaidBar;
  readonly laid: LaidEvent;
  readonly address: Address;
  readonly start: number;
  readonly end: number;
  /** A new bow stroke, the stroke before going on, or a short stroke of a treble. */
  readonly attack: 'bow' | 'slur' | 'treble';
}

/** An event of the whole performance. */
interface Spot {
  readonly bar: LaidBar;
  readonly laid: LaidEvent;
  readonly address: Address;
  readonly start: number;
  readonly end: number;
}

/** A tuplet's events share its time evenly, whatever the swing does to its ends. */
const timesOfBar = (bar: LaidBar, clock: Clock): readonly (readonly [number, number])[] => {
  let from = 0;
  return bar.events.map(({ event, onset, length }, i) => {
    const { tuplet } = event;
    if (tuplet?.index === 0) from = i;
    const end = add(onset, length);
    if (tuplet === null) return [clock.timeAt(bar, onset), clock.timeAt(bar, end)];
    const group = bar.events.slice(from, from + tuplet.count);
    const whole = group.length === tuplet.count && group.every((e, k) => e.event.tuplet?.index === k);
    const last = group.at(-1);
    if (!whole || last === undefined) return [clock.timeAt(bar, onset), clock.timeAt(bar, end)];
    return evenly(bar, group, i - from, clock);
  });
};

const evenly = (
  bar: LaidBar,
  group: readonly LaidEvent[],
  index: number,
  clock: Clock,
): readonly [number, number] => {
  const lengths = group.map((e) => e.length.num / e.length.den);
  const total = lengths.reduce((a, b) => a + b, 0);
  const first = group[0]?.onset ?? { num: 0, den: 1 };
  const last = group.at(-1);
  if (last === undefined || total === 0) return [0, 0];
  const stop = add(last.onset, last.length);
  const t0 = clock.timeAt(bar, first);
  const t1 = clock.timeAt(bar, stop);
  const before = lengths.slice(0, index).reduce((a, b) => a + b, 0);
  const own = lengths[index] ?? 0;
  return [t0 + ((t1 - t0) * before) / total, t0 + ((t1 - t0) * (before + own)) / total];
};

const spotsOf = (layout: Layout, clock: Clock): readonly Spot[] =>
  layout.bars.flatMap((bar) => {
    const times = timesOfBar(bar, clock);
    return bar.events.map((laid, i): Spot => {
      const [start, end] = times[i] ?? [0, 0];
      const address = { part: bar.part, bar: bar.index, onset: asWholeNotes(laid.onset) };
      return { bar, laid, address, start, end };
    });
  });

/** Times and attacks that a treble or a written-out roll gives its events. */
type Given = Partial<Pick<Stroke, 'start' | 'end' | 'attack'>>;

/** The finger alone changes what follows the first note. */
const IN_ONE_STROKE: readonly Given[] = [{}, { attack: 'slur' }, { attack: 'slur' }];

/** At speed the short strokes keep their time; in the slow form a treble opens out to fill its own. */
const trebleTimes = (start: number, end: number, slow: boolean): readonly Given[] => {
  const { short: share, long, longest } = slow ? SLOW_TREBLE : TREBLE;
  const short = (Math.min(longest, end - start) * share) / (2 * share + long);
  return [
    { start, end: start + short, attack: 'treble' },
    { start: start + short, end: start + 2 * short, attack: 'treble' },
    { start: start + 2 * short, end, attack: 'bow' },
  ];
};

const givenByOrnament = (
  ornament: FoundOrnament,
  spots: readonly Spot[],
  slow: boolean,
): readonly Given[] => {
  const [first] = spots;
  const last = spots.at(-1);
  if (first === undefined || last === undefined || spots.length < ornament.events) return [];
  switch (ornament.kind) {
    case 'treble':
      return trebleTimes(first.start, last.end, slow);
    case 'longRoll':
      return IN_ONE_STROKE;
    case 'shortRoll':
      return IN_ONE_STROKE.slice(0, ornament.events);
    case 'runTriplet':
      return slow ? IN_ONE_STROKE : [];
    default:
      return [];
  }
};

/** What strokes are made with. */
interface Playing {
  readonly clock: Clock;
  readonly dance: Dance;
}

/** Below the middle of "to learn" and "steady" ornaments are played in their slow form. Ours. */
const isSlow = (spot: Spot, { clock, dance }: Playing): boolean =>
  clock.beatsPerMinuteAt(spot.bar.start) < (dance.tempo.learn + dance.tempo.steady) / 2;

type Groups = ReadonlyMap<string, FoundOrnament>;

/** Ornaments of several events, by the key of their first one's address. */
const groupsOf = (score: Score): Groups =>
  new Map(
    ornamentsOf(score)
      .filter((o) => o.events > 1)
      .map((o) => [addressKey(o.address), o] as const),
  );

/** The tune with a bar as it is played this time. */
const withBarOf = (score: Score, { part, index, bar }: LaidBar): Score => ({
  ...score,
  parts: score.parts.map((p) =>
    p.label === part ? { ...p, bars: p.bars.map((b, i) => (i === index ? bar : b)) } : p,
  ),
});

/** Where to look for the ornaments of a bar: where it is played another way, among that way's. */
const groupFinder = (score: Score): ((bar: LaidBar) => Groups) => {
  const usual = groupsOf(score);
  const others = new Map<readonly Event[], Groups>();
  return (bar) => {
    if (!bar.another) return usual;
    const found = others.get(bar.bar.events) ?? groupsOf(withBarOf(score, bar));
    others.set(bar.bar.events, found);
    return found;
  };
};

const givenTimes = (spots: readonly Spot[], score: Score, playing: Playing): ReadonlyMap<number, Given> => {
  const groupsIn = groupFinder(score);
  const given = new Map<number, Given>();
  spots.forEach((spot, i) => {
    const ornament = groupsIn(spot.bar).get(addressKey(spot.address));
    if (ornament === undefined) return;
    const inside = spots.slice(i, i + ornament.events).filter((s) => s.bar === spot.bar);
    givenByOrnament(ornament, inside, isSlow(spot, playing)).forEach((g, k) => {
      given.set(i + k, g);
    });
  });
  return given;
};

/** Bow and tie as they stand while the tune is walked through. */
interface Walk {
  /** Slurs open. */
  depth: number;
  /** The note before, where nothing was silent since. */
  sounding: Note | null;
}

const attackOf = (note: Note, walk: Walk): 'bow' | 'slur' => {
  if (walk.depth === 0 || walk.sounding === null) return 'bow';
  const repeated = midiOf(walk.sounding.pitches[0]) === midiOf(note.pitches[0]);
  return repeated && note.graces === null ? 'bow' : 'slur';
};

const passSlurs = (note: Note, walk: Walk): void => {
  walk.depth = Math.max(0, walk.depth + note.slurs.opens - note.slurs.closes);
};

/** The last of the spots that a tied note from `at` on rings through. */
const tieEnd = (spots: readonly Spot[], at: number): number => {
  let last = at;
  for (;;) {
    const here = spots[last]?.laid.event;
    const next = spots[last + 1]?.laid.event;
    if (here?.kind !== 'note' || next?.kind !== 'note' || !here.tiedToNext) return last;
    if (midiOf(here.pitches[0]) !== midiOf(next.pitches[0])) return last;
    if (spots[last]?.bar.answer !== spots[last + 1]?.bar.answer) return last;
    last += 1;
  }
};

/**
 * The melody as strokes: who begins with the bow, who is slurred, ties joined, trebles in their own lengths.
 *
 * Two equal notes under a slur with nothing between them are bowed: the finger alone can't part them.
 */
export const strokesOf = (score: Score, layout: Layout, playing: Playing): readonly Stroke[] => {
  const spots = spotsOf(layout, playing.clock);
  const given = givenTimes(spots, score, playing);
  const walk: Walk = { depth: 0, sounding: null };
  const strokes: Stroke[] = [];
  for (let i = 0; i < spots.length; i += 1) {
    const spot = spots[i];
    if (spot === undefined) break;
    const { bar, laid, address } = spot;
    if (bar.jumped && bar.events[0] === laid) walk.depth = 0;
    if (laid.event.kind === 'rest') {
      walk.sounding = null;
      continue;
    }
    const note = laid.event;
    const last = tieEnd(spots, i);
    const more = given.get(i) ?? {};
    strokes.push({
      note,
      bar,
      laid,
      address,
      start: more.start ?? spot.start,
      end: last > i ? (spots[last]?.end ?? spot.end) : (more.end ?? spot.end),
      attack: more.attack ?? attackOf(note, walk),
    });
    for (const tied of spots.slice(i, last + 1))
      if (tied.laid.event.kind === 'note') passSlurs(tied.laid.event, walk);
    walk.sounding = note;
    i = last;
  }
  return strokes;
};
