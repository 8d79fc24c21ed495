import { randomFrom } from '../src/core/index.ts';
import { ornamentSitesOf } from '../src/fiddle/index.ts';
import { isSamePitch } from '../src/music/index.ts';
import { addressKey, notesOf, type PlacedNote, type Score } from '../src/score/index.ts';
import { plainOf, suggestOrnaments } from '../src/versions/index.ts';
import { corpusTunes, ONEILL } from './bonesParts/material.ts';
import type { MeasureRow, MeasureTable } from './table.ts';

const COMMAND = 'npm run measure -- ornaments';
/** Seed of the random legal sites. */
const SEED = 1903;
/** How often the random sites are drawn, so that their figure is a mean. */
const DRAWS = 20;

/** A printed tune with its notes by address: all, those that bear one printed grace note, those where a cut is legal. */
interface Printed {
  readonly plain: Score;
  readonly notes: number;
  readonly graced: ReadonlySet<string>;
  readonly legal: readonly string[];
}

/** The notes that are struck: the second of two tied ones is none, whatever grace note is printed before it. */
const struckIn = (plain: Score): readonly PlacedNote[] =>
  notesOf(plain).filter(({ note }, i, all) => {
    const before = all[i - 1]?.note;
    return !(before?.tiedToNext === true && isSamePitch(before.pitches[0], note.pitches[0]));
  });

const printedOf = (score: Score): Printed => {
  const plain = plainOf(score);
  const there = new Set(struckIn(plain).map(({ address }) => addressKey(address)));
  const graced = notesOf(score)
    .filter(({ note }) => note.graces?.pitches.length === 1)
    .map(({ address }) => addressKey(address))
    .filter((key) => there.has(key));
  const legal = ornamentSitesOf(plain)
    .filter((site) => site.kind === 'cut')
    .map((site) => addressKey(site.address));
  return { plain, notes: there.size, graced: new Set(graced), legal };
};

/** Hits among chosen sites, all over a half of the tunes. */
interface Tally {
  notes: number;
  legal: number;
  graced: number;
  gracedLegal: number;
  /** In tunes with a printed grace note: sites suggested, and hits of ours and of random legal ones. */
  suggested: number;
  hits: number;
  randomHits: number;
  /** Printed grace notes of these tunes. */
  wanted: number;
}

const newTally = (): Tally => ({
  notes: 0,
  legal: 0,
  graced: 0,
  gracedLegal: 0,
  suggested: 0,
  hits: 0,
  randomHits: 0,
  wanted: 0,
});

/** So many of the sites, each at most once, by chance. */
const drawn = (sites: readonly string[], count: number, next: () => number): readonly string[] => {
  const left = [...sites];
  const result: string[] = [];
  while (result.length < count && left.length > 0)
    result.push(...left.splice(Math.floor(next() * left.length), 1));
  return result;
};

const tallyTune = (printed: Printed, tally: Tally, next: () => number): void => {
  const { plain, notes, graced, legal } = printed;
  tally.notes += notes;
  tally.legal += legal.length;
  tally.graced += graced.size;
  tally.gracedLegal += legal.filter((key) => graced.has(key)).length;
  if (graced.size === 0) return;
  const hitsAmong = (keys: readonly string[]): number => keys.filter((key) => graced.has(key)).length;
  const ours = suggestOrnaments({ plain, full: plain }, { kinds: ['cut'] }).map((s) => addressKey(s.address));
  tally.suggested += ours.length;
  tally.hits += hitsAmong(ours);
  tally.wanted += graced.size;
  for (let i = 0; i < DRAWS; i += 1) tally.randomHits += hitsAmong(drawn(legal, ours.length, next)) / DRAWS;
};

const share = (part: number, all: number): number => (all > 0 ? Math.round((1000 * part) / all) / 1000 : 0);

const rowsOf = (tally: Tally, half: string): readonly MeasureRow[] => {
  const recall = share(tally.gracedLegal, tally.graced);
  const all = share(tally.legal, tally.notes);
  const precision = share(tally.hits, tally.suggested);
  const byChance = share(tally.randomHits, tally.suggested);
  const found = share(tally.hits, tally.wanted);
  const foundByChance = share(tally.randomHits, tally.wanted);
  return [
    {
      what: `${half}: printed single grace notes on notes where a cut is legal (of ${tally.graced})`,
      ours: recall,
      target: '≥ 0.95',
      yardstick: all,
      holds: recall >= 0.95,
    },
    {
      what: `${half}: share of all notes where a cut is legal (of ${tally.notes})`,
      ours: all,
      target: '≤ 0.6',
      holds: all <= 0.6,
    },
    {
      what: `${half}: suggested cuts that are printed, in tunes with a printed grace note (of ${tally.suggested}; yardstick: as many random legal sites)`,
      ours: precision,
      target: 'above the yardstick',
      yardstick: byChance,
      holds: precision > byChance,
    },
    {
      what: `${half}: printed grace notes that are suggested, in these tunes (of ${tally.wanted})`,
      ours: found,
      target: 'above the yardstick',
      yardstick: foundByChance,
      holds: found > foundByChance,
    },
  ];
};

/**
 * Legal places and suggestions against the grace notes printed in O'Neill 1903, in two halves.
 *
 * What is legal was set with the printed places of the whole book in view; what is suggested was not tuned to print.
 */
export const table = async (): Promise<MeasureTable> => {
  const title = 'Ornaments';
  const scores = corpusTunes([ONEILL]);
  if (scores === null) return { title, command: COMMAND, rows: [], skipped: '../shared/data/corpora' };
  const { next } = randomFrom(SEED);
  const halves = [newTally(), newTally()] as const;
  scores.forEach((score, i) => {
    tallyTune(printedOf(score), halves[i % 2 === 0 ? 0 : 1], next);
  });
  return {
    title,
    command: COMMAND,
    rows: [...rowsOf(halves[0], 'every second tune'), ...rowsOf(halves[1], 'the others')],
  };
};
