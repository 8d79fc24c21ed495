import { barsOf, type Score } from '../src/score/index.ts';
import { plainOf } from '../src/versions/index.ts';
import { corpusTunes, measured } from './bonesParts/material.ts';
import { type SoundedBar, sounded, soundingAt } from './bonesParts/sounded.ts';
import type { MeasureRow, MeasureTable } from './table.ts';

// Many old books print a tune's strain plain and, later in the same tune, busier: variations. The bones of the busy
// strain are held against the plain one that the book itself prints.

const COMMAND = 'npm run measure -- strains';

/** A pair counts from so many full bars on; a variation of fewer is a phrase that comes again. Ours. */
const FEWEST_BARS = 4;
/** Share of beats on which both strains sound the same pitch. Ours. */
const SAME_MUSIC = 0.65;
/** The plain strain has at most this share of the busy one's notes. Ours. */
const CLEARLY_FEWER = 0.85;

/** A busy strain in three versions and the plain one that is printed beside it, bar against bar. */
interface StrainPair {
  readonly printed: readonly SoundedBar[];
  readonly busy: readonly SoundedBar[];
  readonly bones: readonly SoundedBar[];
  readonly thinned: readonly SoundedBar[];
}

const notesIn = (bars: readonly SoundedBar[]): number => bars.reduce((sum, bar) => sum + bar.notes.length, 0);

/** Yes and of, over moments of the bars a step apart at which both sound. */
const agreement = (
  a: readonly SoundedBar[],
  b: readonly SoundedBar[],
  stepOf: (bar: SoundedBar) => number,
): { readonly yes: number; readonly of: number } => {
  let [yes, of] = [0, 0];
  a.forEach((bar, i) => {
    for (let at = 0; at < bar.length; at += stepOf(bar)) {
      const [one, other] = [soundingAt(bar, at), soundingAt(b[i] as SoundedBar, at)];
      if (one === null || other === null) continue;
      of += 1;
      if (one === other) yes += 1;
    }
  });
  return { yes, of };
};

const beatsAgree = (a: readonly SoundedBar[], b: readonly SoundedBar[]): number => {
  const { yes, of } = agreement(a, b, (bar) => bar.beat);
  return of === 0 ? 0 : yes / of;
};

/** A strain as books set it: parts of sixteen bars and more are cut into such. Common practice. */
const STRAIN_BARS = 8;

/** The full bars of each strain, by place in the tune; of several endings the first. */
const strainsOf = (score: Score): readonly (readonly number[])[] => {
  const parts = new Map<string, number[]>();
  barsOf(score).forEach(({ bar, part }, i) => {
    if (bar.role !== 'full' || (bar.ending !== null && !bar.ending.includes(1))) return;
    const own = parts.get(part);
    if (own === undefined) parts.set(part, [i]);
    else own.push(i);
  });
  return [...parts.values()].flatMap((part) => {
    if (part.length === STRAIN_BARS || part.length % STRAIN_BARS !== 0) return [part];
    const starts = part.map((_, i) => i).filter((i) => i % STRAIN_BARS === 0);
    return starts.map((from) => part.slice(from, from + STRAIN_BARS));
  });
};

const areComparable = (a: readonly SoundedBar[], b: readonly SoundedBar[]): boolean =>
  a.length >= FEWEST_BARS && a.length === b.length && a.every((bar, i) => bar.length === b[i]?.length);

const take = (from: readonly SoundedBar[], strain: readonly number[]): readonly SoundedBar[] =>
  strain.map((i) => from[i] as SoundedBar);

/** Each busy strain of a tune with the plainer one that is nearest to it on the beats. */
const pairsIn = (score: Score): readonly StrainPair[] => {
  const written = plainOf(score);
  const heard = sounded(written);
  const strains = strainsOf(written);
  const found = strains.flatMap((strain) => {
    const busy = take(heard, strain);
    const plainer = strains
      .map((other) => take(heard, other))
      .filter((other) => areComparable(busy, other) && notesIn(other) <= CLEARLY_FEWER * notesIn(busy))
      .map((printed) => ({ printed, near: beatsAgree(printed, busy) }))
      .filter(({ near }) => near >= SAME_MUSIC)
      .sort((a, b) => b.near - a.near)[0];
    return plainer === undefined ? [] : [{ strain, busy, printed: plainer.printed }];
  });
  if (found.length === 0) return [];
  const { bones, thinned } = measured(score);
  return found.map(({ strain, ...pair }) => ({
    ...pair,
    bones: take(bones, strain),
    thinned: take(thinned, strain),
  }));
};

type VersionName = 'busy' | 'bones' | 'thinned';

/** How well a version's onsets are those of the printed plain strain. */
const onsets = (pairs: readonly StrainPair[], version: VersionName) => {
  let [both, ours, printed] = [0, 0, 0];
  for (const pair of pairs)
    pair.printed.forEach((bar, i) => {
      const own = pair[version][i] as SoundedBar;
      const at = new Set(own.notes.map((n) => n.at));
      both += bar.notes.filter((n) => at.has(n.at)).length;
      ours += own.notes.length;
      printed += bar.notes.length;
    });
  return { precision: both / ours, recall: both / printed, f: (2 * both) / (ours + printed) };
};

/** Share of running-note places at which a version sounds the printed pitch. */
const pitches = (pairs: readonly StrainPair[], version: VersionName): number => {
  const all = pairs.map((pair) => agreement(pair.printed, pair[version], (bar) => bar.running));
  return all.reduce((sum, one) => sum + one.yes, 0) / all.reduce((sum, one) => sum + one.of, 0);
};

const rounded = (value: number): number => Math.round(value * 1000) / 1000;

const above = (what: string, ours: number, thinned: number): MeasureRow => ({
  what,
  ours: rounded(ours),
  target: 'above thinning',
  yardstick: rounded(thinned),
  holds: ours > thinned,
});

const reported = (what: string, ours: number, thinned?: number): MeasureRow => ({
  what,
  ours: rounded(ours),
  target: 'reported',
  ...(thinned === undefined ? {} : { yardstick: rounded(thinned) }),
  holds: null,
});

/** Bones of printed busy strains against the plain strains printed beside them, mechanical thinning beside them. */
export const table = async (): Promise<MeasureTable> => {
  const scores = corpusTunes();
  const title = 'Busy strains against printed plain ones';
  if (scores === null) return { title, command: COMMAND, rows: [], skipped: '../shared/data/corpora' };
  const byTune = scores.map(pairsIn).filter((pairs) => pairs.length > 0);
  const pairs = byTune.flat();
  const near = pairs.map((pair) => beatsAgree(pair.printed, pair.busy));
  const [bones, thinned, busy] = (['bones', 'thinned', 'busy'] as const).map((name) => onsets(pairs, name));
  if (bones === undefined || thinned === undefined || busy === undefined) throw new Error('no versions');
  return {
    title: `${title} (${byTune.length} tunes, ${pairs.length} strains, ${pairs.flatMap((p) => p.printed).length} bars)`,
    command: COMMAND,
    rows: [
      above('onset F against the printed plain strain', bones.f, thinned.f),
      above('running-note places at the printed pitch', pitches(pairs, 'bones'), pitches(pairs, 'thinned')),
      reported('onset precision', bones.precision, thinned.precision),
      reported('onset recall', bones.recall, thinned.recall),
      reported('onset F of the busy strain as it is', busy.f),
      reported('printed onsets struck in the busy strain', busy.recall),
      reported('beats on which the two strains agree, mean', near.reduce((a, b) => a + b, 0) / near.length),
    ],
  };
};
