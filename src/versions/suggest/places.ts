import { compare, formatRational, rational } from '../../core/index.ts';
import { danceOfScore, type OrnamentSite, ornamentSitesOf, ornamentsOf } from '../../fiddle/index.ts';
import { barsOf, fingerprintOf, notesOf, placedEvents, type Score } from '../../score/index.ts';
import type { SuggestionSettings } from './suggestion.ts';
import { chordFinder, type Weighed, weighed } from './worth.ts';

/** A site with what speaks for it. */
export interface Candidate extends Weighed {
  readonly site: OrnamentSite;
  /** What is the same where the bar comes again: kind and onset. */
  readonly key: string;
}

/** A bar that comes so often, with what could be played in each of its places. */
export interface BarGroup {
  /** Where it stands, in written order. */
  readonly places: readonly Place[];
}

/** One place of a bar. */
export interface Place {
  readonly part: string;
  readonly bar: number;
  readonly candidates: ReadonlyMap<string, Candidate>;
}

/** A tune as ornaments are chosen for it. */
export interface Chart {
  readonly groups: readonly BarGroup[];
  /** Full bars of each part, and ornaments that are written in it. */
  readonly parts: ReadonlyMap<string, { readonly bars: number; readonly written: number }>;
  /** Indexes, as those of sites, of the notes that bear a written ornament. */
  readonly taken: readonly number[];
}

/** Notes shorter than the running note are left alone. */
const RUNNING = rational(1);

const barKey = (part: string, bar: number): string => `${bar}/${part}`;

/** The last note of each part, by its bar and onset. */
const lastNotes = (plain: Score): ReadonlySet<string> => {
  const last = new Map(notesOf(plain).map(({ address }) => [address.part, keyOf(address)] as const));
  return new Set(last.values());
};

const keyOf = ({ part, bar, onset }: OrnamentSite['address']): string =>
  `${barKey(part, bar)}/${formatRational(onset)}`;

const candidatesByBar = (
  plain: Score,
  settings: SuggestionSettings,
): ReadonlyMap<string, ReadonlyMap<string, Candidate>> => {
  const last = lastNotes(plain);
  const context = {
    dance: danceOfScore(plain).id,
    chordAt: chordFinder(plain),
    isLast: (site: OrnamentSite) => last.has(keyOf(site.address)),
  };
  const bars = new Map<string, Map<string, Candidate>>();
  for (const site of ornamentSitesOf(plain)) {
    if (settings.kinds !== undefined && !settings.kinds.includes(site.kind)) continue;
    const found = compare(site.running, RUNNING) < 0 ? null : weighed(site, context);
    if (found === null) continue;
    const { part, bar, onset } = site.address;
    const own = bars.get(barKey(part, bar)) ?? new Map<string, Candidate>();
    const key = `${site.kind}@${formatRational(onset)}`;
    own.set(key, { ...found, site, key });
    bars.set(barKey(part, bar), own);
  }
  return bars;
};

/** Bars that are alike to the note, in which nothing is written yet; pick-ups are left alone. */
const groupsOf = (
  plain: Score,
  busy: ReadonlySet<string>,
  candidates: ReadonlyMap<string, ReadonlyMap<string, Candidate>>,
): readonly BarGroup[] => {
  const groups = new Map<string, Place[]>();
  for (const { bar, part, index } of barsOf(plain)) {
    const own = candidates.get(barKey(part, index));
    if (bar.role !== 'full' || busy.has(barKey(part, index)) || own === undefined) continue;
    const key = fingerprintOf(bar);
    const places = groups.get(key) ?? [];
    groups.set(key, [...places, { part, bar: index, candidates: own }]);
  }
  return [...groups.values()].map((places) => ({ places }));
};

/** Indexes of all notes and rests by the address of each. */
const indexes = (plain: Score): ReadonlyMap<string, number> =>
  new Map(
    barsOf(plain)
      .flatMap(({ bar, part, index }) =>
        placedEvents(bar).map(({ onset }) => keyOf({ part, bar: index, onset })),
      )
      .map((key, i) => [key, i]),
  );

/**
 * What could be played where, bar by bar.
 * @param plain - all the notes
 * @param full - the tune as written, with what ornaments it has
 */
export const chartOf = (plain: Score, full: Score, settings: SuggestionSettings): Chart => {
  const written = [...new Map(ornamentsOf(full).map(({ address }) => [keyOf(address), address])).entries()];
  const busy = new Set(written.map(([, { part, bar }]) => barKey(part, bar)));
  const indexOf = indexes(plain);
  return {
    groups: groupsOf(plain, busy, candidatesByBar(plain, settings)),
    parts: new Map(
      plain.parts.map(({ label, bars }) => [
        label,
        {
          bars: bars.filter((bar) => bar.role === 'full').length,
          written: written.filter(([, { part }]) => part === label).length,
        },
      ]),
    ),
    taken: written.flatMap(([key]) => indexOf.get(key) ?? []),
  };
};
