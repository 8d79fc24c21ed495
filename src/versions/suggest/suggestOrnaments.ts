import { equals } from '../../core/index.ts';
import { danceOfScore, type OrnamentSite, runningUnitOf, type SiteKind } from '../../fiddle/index.ts';
import type { Score } from '../../score/index.ts';
import { A_BAR, LEAST, OF_A_KIND, TWICE_RUNNING } from './data.ts';
import { type BarGroup, type Candidate, type Chart, chartOf, type Place } from './places.ts';
import type { OrnamentSuggestion, Reason, SuggestionSettings } from './suggestion.ts';
import { withOrnaments } from './withOrnaments.ts';

/** An ornament chosen for every place of a bar. */
interface Choice {
  readonly group: BarGroup;
  readonly key: string;
  readonly kind: SiteKind;
}

/** What has been chosen so far. Mutable: one a tune. */
interface Progress {
  readonly choices: Choice[];
  readonly chosen: Set<BarGroup>;
  /** Ornaments that each part may still have. */
  readonly room: Map<string, number>;
  /** How often each kind was chosen in a part, by "part kind". */
  readonly kinds: Map<string, number>;
  /** Notes that bear an ornament, and their neighbours. */
  readonly near: Set<number>;
}

const lastIndexOf = (site: OrnamentSite): number => site.index + site.events - 1;

const block = (near: Set<number>, from: number, to: number): void => {
  for (let i = from - 1; i <= to + 1; i += 1) near.add(i);
};

/** The candidate in each place of a bar, where all places have it. */
const everywhere = (group: BarGroup, key: string): readonly Candidate[] | null => {
  const found = group.places.flatMap((place) => place.candidates.get(key) ?? []);
  return found.length === group.places.length ? found : null;
};

const isFreeOf = (near: ReadonlySet<number>, { site }: Candidate): boolean =>
  !near.has(site.index) && !near.has(lastIndexOf(site));

/** Whether a bar that follows itself would bring its own ornaments next to each other. */
const keepApart = (found: readonly Candidate[]): boolean =>
  found.every(({ site }, i) => {
    const before = found[i - 1]?.site;
    return before === undefined || site.index - lastIndexOf(before) > 1;
  });

const countIn = (group: BarGroup, part: string): number =>
  group.places.filter((place) => place.part === part).length;

const fits = (group: BarGroup, found: readonly Candidate[], { room, near }: Progress): boolean =>
  found.every((candidate) => isFreeOf(near, candidate)) &&
  keepApart(found) &&
  group.places.every(({ part }) => countIn(group, part) <= (room.get(part) ?? 0));

/** Whether the bar comes twice running somewhere. */
const followsItself = ({ places }: BarGroup): boolean =>
  places.some(({ part, bar }, i) => places[i - 1]?.part === part && places[i - 1]?.bar === bar - 1);

/** What a choice is worth now: the mean over its places, less for every one of its kind that its part has. */
const worthNow = (group: BarGroup, found: readonly Candidate[], { kinds }: Progress): number => {
  const total = found.reduce((sum, { worth, site }, i) => {
    const part = group.places[i]?.part ?? '';
    return sum + worth - OF_A_KIND * (kinds.get(`${part} ${site.kind}`) ?? 0);
  }, 0);
  return total / found.length - (followsItself(group) ? TWICE_RUNNING : 0);
};

interface Best {
  readonly choice: Choice;
  readonly found: readonly Candidate[];
  readonly worth: number;
}

const bestNow = (groups: readonly BarGroup[], progress: Progress): Best | null => {
  let best: Best | null = null;
  for (const group of groups) {
    if (progress.chosen.has(group)) continue;
    for (const [key, { site }] of group.places[0]?.candidates ?? []) {
      const found = everywhere(group, key);
      if (found === null || !fits(group, found, progress)) continue;
      const worth = worthNow(group, found, progress);
      if (worth >= LEAST && worth > (best?.worth ?? 0))
        best = { choice: { group, key, kind: site.kind }, found, worth };
    }
  }
  return best;
};

const take = ({ choice, found }: Best, progress: Progress): void => {
  progress.choices.push(choice);
  progress.chosen.add(choice.group);
  for (const { part } of choice.group.places) progress.room.set(part, (progress.room.get(part) ?? 0) - 1);
  for (const part of new Set(choice.group.places.map((p) => p.part))) {
    const key = `${part} ${choice.kind}`;
    progress.kinds.set(key, (progress.kinds.get(key) ?? 0) + 1);
  }
  for (const { site } of found) block(progress.near, site.index, lastIndexOf(site));
};

const chooseAll = (chart: Chart, settings: SuggestionSettings): Progress => {
  const aBar = A_BAR[settings.density ?? 'usual'];
  const progress: Progress = {
    choices: [],
    chosen: new Set(),
    room: new Map([...chart.parts].map(([part, p]) => [part, Math.round(aBar * p.bars) - p.written])),
    kinds: new Map(),
    near: new Set(),
  };
  for (const index of chart.taken) block(progress.near, index, index);
  for (let best = bestNow(chart.groups, progress); best !== null; best = bestNow(chart.groups, progress))
    take(best, progress);
  return progress;
};

/** What else could be played in a place: the best of another kind, next to no other ornament. */
const otherIn = (place: Place, chosen: Candidate, near: ReadonlySet<number>): Candidate | null =>
  [...place.candidates.values()]
    .filter((c) => c.site.kind !== chosen.site.kind && c.worth >= LEAST && isFreeOf(near, c))
    .toSorted((a, b) => b.worth - a.worth)[0] ?? null;

/** Notes near the ornaments of all other places. */
const nearOthers = (
  sites: readonly OrnamentSite[],
  own: OrnamentSite,
  taken: readonly number[],
): Set<number> => {
  const near = new Set<number>();
  for (const index of taken) block(near, index, index);
  for (const site of sites) if (site !== own) block(near, site.index, lastIndexOf(site));
  return near;
};

const suggested = ({ site, worth, reasons }: Candidate, more: readonly Reason[]): OrnamentSuggestion => ({
  ...site,
  worth,
  reasons: [...reasons, ...more],
});

/** One choice in all its places; every second one varied where that was asked for. */
const suggestionsOf = (
  { group, key, kind }: Choice,
  sites: OrnamentSite[],
  { varied, taken }: { readonly varied: boolean; readonly taken: readonly number[] },
): readonly OrnamentSuggestion[] =>
  group.places.flatMap((place, i) => {
    const usual = place.candidates.get(key);
    if (usual === undefined) return [];
    const other = varied && i % 2 === 1 ? otherIn(place, usual, nearOthers(sites, usual.site, taken)) : null;
    if (other !== null) {
      sites[sites.indexOf(usual.site)] = other.site;
      return [suggested(other, [{ kind: 'varied', from: kind }])];
    }
    const times = group.places.length;
    return [suggested(usual, times > 1 && !varied ? [{ kind: 'comesAgain', times }] : [])];
  });

/** The chosen ornaments of a tune, in written order. */
const suggestionsFor = (
  { plain, full }: { readonly plain: Score; readonly full: Score },
  settings: SuggestionSettings,
): readonly OrnamentSuggestion[] => {
  const chart = chartOf(plain, full, settings);
  const { choices } = chooseAll(chart, settings);
  const sites = choices.flatMap(({ group, key }) =>
    group.places.flatMap((place) => place.candidates.get(key)?.site ?? []),
  );
  const how = { varied: settings.secondTime === 'varied', taken: chart.taken };
  return choices.flatMap((choice) => suggestionsOf(choice, sites, how)).toSorted((a, b) => a.index - b.index);
};

/** Ornaments that only add to a note. */
const ADDED: readonly SiteKind[] = ['cut', 'doubleGrace', 'shortRoll', 'slide', 'drone', 'unison'];

/**
 * Whether the running note is judged as before when all of these are accepted. Where quavers and semiquavers are as many,
 * a triplet more can turn the scale, and what was three in the time of two is then three in the time of four.
 */
const keepRunning = (plain: Score, found: readonly OrnamentSuggestion[]): boolean => {
  const accepted = found.map(({ address, kind }) => ({ ...address, kind }));
  const { score } = withOrnaments(plain, plain, accepted);
  const runningOf = (tune: Score) => runningUnitOf(danceOfScore(tune), tune.metre);
  return equals(runningOf(plain), runningOf(score));
};

/**
 * Which ornaments might a fiddler play in this tune, and why?
 *
 * Of all that hand and bow can do, what is worth most, one by one: at most one a bar and about six a part, none on
 * neighbouring notes or on notes shorter than the running note, none in a bar that has a written one, the same place each
 * time a bar comes back. Nothing is put into the tune: the teacher accepts, see `withOrnaments`.
 * @param plain - all the notes
 * @param full - the tune as written; the same where it has no ornaments
 * @returns in written order
 * @see Common practice; the weights are ours
 */
export const suggestOrnaments = (
  { plain, full }: { readonly plain: Score; readonly full: Score },
  settings: SuggestionSettings = {},
): readonly OrnamentSuggestion[] => {
  const versions = { plain, full };
  const found = suggestionsFor(versions, settings);
  if (keepRunning(plain, found)) return found;
  const kinds = ADDED.filter((kind) => settings.kinds?.includes(kind) ?? true);
  return suggestionsFor(versions, { ...settings, kinds });
};
