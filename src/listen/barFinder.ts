import { chromaOf, DANCES, isCompound, metre } from '../music/index.ts';
import { keyOfNotes } from './keyFinder.ts';
import { BAR_KINDS, type BarKind, PHRASE_BARS, type Standing } from './metreData.ts';

/** The tune quaver by quaver. */
export interface Quavers {
  /** Semitone that sounds on each quaver, −1 where none is known. */
  readonly pitch: Int16Array;
  readonly standing: readonly Standing[];
}

/** A way to put bars over the quavers. */
export interface BarPlan {
  readonly kind: BarKind;
  /** The quaver on which a part begins: the first bar 1. Bars lie every `kind.quavers` before and after. */
  readonly start: number;
  /** Higher is likelier: logarithm of likelihood a bar. */
  readonly score: number;
}

/** Share of quavers that are the same so many quavers later. */
const likenessAt = (pitch: Int16Array, lag: number): number => {
  let [same, all] = [0, 0];
  for (let q = 0; q + lag < pitch.length; q += 1) {
    if ((pitch[q] as number) < 0 || (pitch[q + lag] as number) < 0) continue;
    all += 1;
    if (pitch[q] === pitch[q + lag]) same += 1;
  }
  return all < lag / 2 ? 0 : same / all;
};

/** Nothing is rarer than this: players do what printed tunes don't. Ours. */
const LEAST_SHARE = 0.02;
/** Share of notes whose beginning is not heard: the same note again in one long bow. Ours. */
const LOST = 0.06;

/** How likely it is to hear that on this place of a bar. */
const likelihood = (kind: BarKind, place: number, standing: Standing): number => {
  const [none, short, long] = kind.profile[place] ?? [0, 0, 0];
  const heard = [none + LOST * (short + long), (1 - LOST) * short, (1 - LOST) * long + LOST * short];
  return Math.max(LEAST_SHARE, heard[standing] ?? LEAST_SHARE);
};

/** Bars after which a tune may come back to the same notes. */
const COMES_BACK = [2, 4, PHRASE_BARS];
/** So many quavers on each side must be the same, too. */
const ALIKE = 2;

const isAlikeAt = (pitch: Int16Array, q: number, other: number): boolean => {
  for (let i = -ALIKE; i <= ALIKE; i += 1) {
    const [a, b] = [pitch[q + i] ?? -1, pitch[other + i] ?? -1];
    if (a !== b || a < 0) return false;
  }
  return true;
};

/** The quavers with notes whose beginning was not heard, but was where the tune comes back to them. */
const mended = ({ pitch, standing }: Quavers, { quavers: bar }: BarKind): Quavers => {
  const others = COMES_BACK.flatMap((bars) => [bars * bar, -bars * bar]);
  const begins = standing.map(
    (own, q) => own > 0 || others.some((lag) => (standing[q + lag] ?? 0) > 0 && isAlikeAt(pitch, q, q + lag)),
  );
  return {
    pitch,
    standing: standing.map((own, q): Standing => {
      if (begins[q] !== true) return 0;
      return own === 0 || begins[q + 1] === true ? 1 : own;
    }),
  };
};

/** What the standing of the quavers says for bars that begin at `phase`, per quaver. */
const profileScore = (quavers: Quavers, kind: BarKind, phase: number): number => {
  let sum = 0;
  quavers.standing.forEach((standing, q) => {
    const place = (((q - phase) % kind.quavers) + kind.quavers) % kind.quavers;
    sum += Math.log(likelihood(kind, place, standing));
  });
  return sum / Math.max(1, quavers.standing.length);
};

/** Semitones above the keynote of its triads, major and minor. */
const TRIAD: ReadonlySet<number> = new Set([0, 3, 4, 7]);

/** What the notes' places in the key say for bars that begin at `phase`, per quaver. */
const triadScore = (
  quavers: Quavers,
  tonic: number,
  { quavers: bar, triad }: BarKind,
  phase: number,
): number => {
  let sum = 0;
  quavers.standing.forEach((standing, q) => {
    const pitch = quavers.pitch[q] ?? -1;
    if (standing === 0 || pitch < 0) return;
    const share = triad[(((q - phase) % bar) + bar) % bar] ?? 0.5;
    sum += Math.log(TRIAD.has((((pitch - tonic) % 12) + 12) % 12) ? share : 1 - share);
  });
  return sum / Math.max(1, quavers.standing.length);
};

/** What the last note's place in the bar says, per quaver of the tune. */
const endingScore = (quavers: Quavers, { quavers: bar, ending }: BarKind, phase: number): number => {
  const last = quavers.standing.findLastIndex((s) => s > 0);
  const share = ending[(((last - phase) % bar) + bar) % bar] ?? 0;
  return Math.log(Math.max(LEAST_SHARE, share)) / Math.max(1, quavers.standing.length);
};

/** The pitch class that the tune has for its keynote. */
const tonicOf = (quavers: Quavers): number => {
  const notes = quavers.standing.flatMap((standing, q) => {
    const semitone = quavers.pitch[q] ?? -1;
    return standing === 0 || semitone < 0 ? [] : [{ semitone, length: standing }];
  });
  const last = notes.at(-1);
  const { tonic } = keyOfNotes(notes, last === undefined ? [] : [last.semitone]);
  return tonic === null ? 0 : chromaOf(tonic);
};

/** How well a part of eight bars, played twice, fits when parts begin at `start`, 0…1 more or less. */
const repeatScore = (pitch: Int16Array, kind: BarKind, start: number): number => {
  const part = PHRASE_BARS * kind.quavers;
  let [sum, all] = [0, 0];
  for (let q = 0; q + part < pitch.length; q += 1) {
    const same = pitch[q] === pitch[q + part] && (pitch[q] as number) >= 0;
    const place = (((q - start) % (2 * part)) + 2 * part) % (2 * part);
    all += 1;
    if (same) sum += place < part ? 1 : -0.5;
  }
  return all === 0 ? 0 : sum / all;
};

/** A quaver too many or too few between two bars: a slip of the count, in logarithms of likelihood. Ours. */
const SLIP = 7;
/** A bar that begins where the plan has it. Ours. */
const AS_PLANNED = 0.5;

/** What the standing of the quavers says for one bar that begins at `start`. */
const barScore = (quavers: Quavers, { kind, start: phase }: BarPlan, start: number): number => {
  let sum = (start - phase) % kind.quavers === 0 ? AS_PLANNED : 0;
  for (let place = 0; place < kind.quavers; place += 1) {
    const standing = quavers.standing[start + place];
    if (standing !== undefined) sum += Math.log(likelihood(kind, place, standing));
  }
  return sum;
};

/** What the standing of a quaver says, the bars laid as planned: the mean of all. */
const usualScore = (quavers: Quavers, plan: BarPlan): number => {
  const bar = plan.kind.quavers;
  let [sum, bars] = [0, 0];
  for (let q = ((plan.start % bar) + bar) % bar; q + bar <= quavers.standing.length; q += bar) {
    sum += barScore(quavers, plan, q);
    bars += 1;
  }
  return sum / Math.max(1, bars * bar);
};

/**
 * Where each bar begins, in quavers, the plan followed and slips of the count made good: the likeliest row of bars, each
 * as long as its metre asks or, at a price, a quaver more or less.
 */
export const barStarts = (heard: Quavers, plan: BarPlan): readonly number[] => {
  const quavers = mended(heard, plan.kind);
  const count = quavers.standing.length;
  const bar = plan.kind.quavers;
  const usual = usualScore(quavers, plan);
  const best = new Float64Array(count).fill(-Infinity);
  const before = new Int32Array(count).fill(-1);
  for (let q = 0; q < count; q += 1) {
    // The first bar begins within the first bar's length; what is before it counts as if it were a part of one.
    if (q < bar) best[q] = usual * q - ((q - plan.start) % bar === 0 ? 0 : SLIP);
    for (const [length, price] of [
      [bar, 0],
      [bar - 1, SLIP],
      [bar + 1, SLIP],
      [bar - 2, SLIP + 1],
      [bar + 2, SLIP + 1],
    ] as const) {
      const from = q - length;
      if (from < 0 || (best[from] as number) - price <= (best[q] as number)) continue;
      best[q] = (best[from] as number) - price;
      before[q] = from;
    }
    best[q] = (best[q] as number) + barScore(quavers, plan, q);
  }
  // What is behind the last bar, and what it lacks, counts the same.
  const whole = (q: number): number => (best[q] as number) + usual * (count - q - bar);
  let last = Math.max(0, count - bar);
  for (let q = last; q < count; q += 1) if (whole(q) > whole(last)) last = q;
  const starts: number[] = [];
  for (let q = last; q >= 0; q = before[q] as number) starts.push(q);
  return starts.reverse();
};

/** What the coming back of phrases weighs against what stands where. Ours. */
const PROFILE_WEIGHT = 2.5;
/** What places in the key weigh against what stands where. Ours. */
const TRIAD_WEIGHT = 0.6;
const REPEAT_WEIGHT = 2.2;
const LIKENESS_WEIGHT = 3;
/** Lags at which a tune of bars comes back, in bars, and what each weighs. */
const LAGS = [
  [PHRASE_BARS, 0.6],
  [4 * PHRASE_BARS, 0.4],
  [2, 0.3],
  [4, 0.3],
] as const;

/** What it weighs that a tune begins with its first bar or a usual pick-up. Ours. */
const OPENING_WEIGHT = 0.22;

/** Whether the first note can be the first bar's or a usual pick-up before it. */
const opensWell = (quavers: Quavers, kind: BarKind, phase: number): boolean => {
  const first = quavers.standing.findIndex((s) => s > 0);
  return kind.pickups.includes((((phase - first) % kind.quavers) + kind.quavers) % kind.quavers);
};

/** How far a tempo may lie from the dance's, as a logarithm, and a swing from its swing. Ours. */
const TEMPO_WIDTH = 0.3;
/** The same for a slower one: practice is slow. */
const SLOW_WIDTH = 0.45;
const SWING_WIDTH = 0.35;
const FEEL_WEIGHT = 0.6;
/** Worse than this it gets no worse, in squares of these widths. Ours. */
const WORST_FEEL = 8;

/** How well tempo and swing suit the dance: 0 at best. */
const feelScore = (kind: BarKind, feel: Feel): number => {
  const dance = DANCES[kind.dance];
  const beats = 60 / (feel.pace * kind.beat);
  const faster = Math.log(beats / dance.tempo.upToSpeed);
  const tempo = faster > 0 ? faster / TEMPO_WIDTH : faster / SLOW_WIDTH;
  const swing = isCompound(metre(kind.count, kind.unit))
    ? 0
    : ((feel.swing ?? dance.swing) - dance.swing) / SWING_WIDTH;
  return -FEEL_WEIGHT * Math.min(WORST_FEEL, tempo * tempo + swing * swing);
};

const plansOf = (heard: Quavers, kind: BarKind, feel: Feel): readonly BarPlan[] => {
  const quavers = mended(heard, kind);
  const comesBack = LAGS.reduce(
    (sum, [bars, weight]) => sum + weight * likenessAt(quavers.pitch, bars * kind.quavers),
    0,
  );
  const period = 2 * PHRASE_BARS * kind.quavers;
  const tonic = tonicOf(quavers);
  const byPhase = Array.from(
    { length: kind.quavers },
    (_, phase) =>
      profileScore(quavers, kind, phase) +
      TRIAD_WEIGHT * triadScore(quavers, tonic, kind, phase) +
      endingScore(quavers, kind, phase),
  );
  return Array.from({ length: kind.quavers }, (_, phase): BarPlan => {
    let [start, best] = [phase, -Infinity];
    for (let s = phase; s < period; s += kind.quavers) {
      const score = repeatScore(quavers.pitch, kind, s);
      if (score > best) [best, start] = [score, s];
    }
    const opening = opensWell(quavers, kind, phase) ? OPENING_WEIGHT : 0;
    const score =
      feelScore(kind, feel) +
      PROFILE_WEIGHT * (byPhase[phase] as number) +
      REPEAT_WEIGHT * best +
      LIKENESS_WEIGHT * comesBack +
      opening;
    return { kind, start, score };
  });
};

/** How the quavers are played. */
export interface Feel {
  /** Seconds of a quaver. */
  readonly pace: number;
  /** Long : short; null where it can't be told. */
  readonly swing: number | null;
}

/** What is known of the metre. */
export interface KnownMetre {
  /** Quavers of a bar. */
  readonly quavers?: number;
  /** Quavers of a beat. */
  readonly beat?: number;
}

/**
 * Where do the bars lie, and of what kind are they?
 *
 * Two witnesses: what stands on which quaver of a bar in printed tunes of that dance, and where a part that is played
 * twice begins and begins again.
 * @returns likeliest first; one plan a kind and phase
 */
export const barPlans = (quavers: Quavers, feel: Feel, known: KnownMetre = {}): readonly BarPlan[] =>
  BAR_KINDS.filter(
    (k) =>
      (known.quavers === undefined || k.quavers === known.quavers) &&
      (known.beat === undefined || k.beat === known.beat),
  )
    .flatMap((kind) => plansOf(quavers, kind, feel))
    .sort((a, b) => b.score - a.score);
