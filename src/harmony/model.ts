import { ACCENTS, PHRASE_PLACES, type PhrasePlace } from './cells.ts';
import {
  type ChordCounts,
  type ChordSpan,
  type Family,
  type FamilyCounts,
  placeRow,
  tonesAboveRoot,
} from './counts.ts';
import { isMinor, rootOf, TRIADS, type TriadClass } from './vocabulary.ts';

/**
 * How counts become probabilities: what is rarely seen leans on what is often seen, as if it had been counted this often.
 * @see Ours: tuned on the shared Nottingham half
 */
const LEAN = { triad: 0.5, step: 5, place: 20, tone: 20, interval: 0.5 } as const;

/**
 * How much each kind of evidence weighs against the step from chord to chord, and how a note's weight grows with its
 * length (a power: two quavers say more than one crotchet).
 * @see Ours: tuned on the shared Nottingham half
 */
const WEIGHT = { tones: 1.2, place: 0.7, length: 0.5 } as const;

/** Triads seen less often than this in a family are not chosen. Ours. */
const SEEN = 3;

/** Log probabilities for one family of keys. */
interface FamilyModel {
  readonly seen: readonly TriadClass[];
  /** [before (24: the tune's start)][after]. */
  readonly steps: readonly (readonly number[])[];
  /** [place row][triad], relative to the triad's share everywhere. */
  readonly places: readonly (readonly number[])[];
  /** [accent][triad][degree]. */
  readonly tones: readonly (readonly (readonly number[])[])[];
}

/** A hidden Markov model: the chord is hidden, the melody is what it lets us hear. */
export interface ChordModel {
  readonly families: Readonly<Record<Family, FamilyModel>>;
  /** [quality][accent][semitones above the root]: log probabilities. */
  readonly aboveRoot: readonly (readonly (readonly number[])[])[];
  /** Log probabilities that a bar at this place keeps one chord, or changes. */
  readonly bars: Readonly<Record<PhrasePlace, { readonly keeps: number; readonly changes: number }>>;
}

const total = (row: readonly number[]): number => row.reduce((sum, n) => sum + n, 0);

/** The shares of a row of counts, leaning on expected shares. */
const leaning = (row: readonly number[], expected: readonly number[], weight: number): readonly number[] => {
  const all = total(row) + weight;
  return expected.map((share, i) => ((row[i] ?? 0) + weight * share) / all);
};

const evenly = (places: number): readonly number[] => new Array<number>(places).fill(1 / places);

const familyModel = (
  counts: FamilyCounts,
  aboveRoot: readonly (readonly (readonly number[])[])[],
): FamilyModel => {
  const each = Array.from({ length: TRIADS }, (_, t) => total(counts.places.map((row) => row[t] ?? 0)));
  const shares = leaning(each, evenly(TRIADS), LEAN.triad * TRIADS);
  const logs = (row: readonly number[] | undefined): readonly number[] =>
    leaning(row ?? [], shares, LEAN.step).map(Math.log);
  return {
    seen: each.flatMap((n, triad) => (n >= SEEN ? [triad] : [])),
    steps: [...counts.steps.map(logs), logs(counts.first)],
    places: counts.places.map((row) =>
      leaning(row, shares, LEAN.place).map((p, t) => Math.log(p / (shares[t] ?? 1))),
    ),
    tones: Array.from({ length: ACCENTS }, (_, accent) =>
      Array.from({ length: TRIADS }, (__, triad) => {
        const expected = Array.from(
          { length: 12 },
          (___, degree) => aboveRoot[triad % 2]?.[accent]?.[(degree - rootOf(triad) + 12) % 12] ?? 0,
        );
        return leaning(counts.tones[accent]?.[triad] ?? [], expected, LEAN.tone).map(Math.log);
      }),
    ),
  };
};

/** Makes the model from its counts; pure, so that it can be made anew for every fold of a measurement. */
export const modelFrom = (counts: ChordCounts): ChordModel => {
  const shares = tonesAboveRoot(counts).map((accents) =>
    accents.map((row) => leaning(row, evenly(12), LEAN.interval * 12)),
  );
  const bars = PHRASE_PLACES.map((place, i) => {
    const [kept, changed] = counts.bars[i] ?? [0, 0];
    const changes = (changed + 1) / (kept + changed + 2);
    return [place, { keeps: Math.log(1 - changes), changes: Math.log(changes) }] as const;
  });
  return {
    families: { major: familyModel(counts.major, shares), minor: familyModel(counts.minor, shares) },
    aboveRoot: shares.map((accents) => accents.map((row) => row.map(Math.log))),
    bars: Object.fromEntries(bars) as unknown as ChordModel['bars'],
  };
};

/**
 * How well does the melody of a span suit a triad?
 * @param own - whether the family's own counts for that very triad are used, or only those of any triad above its root:
 *   in the modes that the counted tunes hardly have, a flat seventh over the tonic is at home
 */
export const melodySuits = (
  model: ChordModel,
  family: Family,
  span: ChordSpan,
  triad: TriadClass,
  own: boolean,
): number => {
  const root = rootOf(triad);
  const quality = isMinor(triad) ? 1 : 0;
  const { tones } = model.families[family];
  let sum = 0;
  for (const { degree, accent, crotchets } of span.notes) {
    const row = own ? tones[accent]?.[triad] : model.aboveRoot[quality]?.[accent];
    sum += crotchets ** WEIGHT.length * (row?.[own ? degree : (degree - root + 12) % 12] ?? 0);
  }
  return WEIGHT.tones * sum;
};

/** How well a triad suits the span's place in the phrase. */
export const placeSuits = (model: ChordModel, family: Family, span: ChordSpan, triad: TriadClass): number =>
  WEIGHT.place * (model.families[family].places[placeRow(span)]?.[triad] ?? 0);

/** How likely is one triad after another (null: at the tune's start)? A log probability. */
export const stepBetween = (
  model: ChordModel,
  family: Family,
  before: TriadClass | null,
  after: TriadClass,
): number => model.families[family].steps[before ?? TRIADS]?.[after] ?? 0;
