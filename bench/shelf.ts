import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { MeasureTable } from '../measure/table.ts';
import { type Random, randomFrom } from '../src/core/index.ts';
import { openShelf, type Shelf } from '../src/shelf/index.ts';

const COMMAND = 'npm run bench -- shelf';
const LESSONS = 5000;
const SYLLABLES = 'bra mul ten dor fi gos hal kin lo nar pel ri sto vu wex'.split(' ');
const NOTES = 'D E F G A B c d e f g a'.split(' ');
const KEYS = ['G', 'D', 'Ador', 'Em'] as const;
const QUERIES = [
  '',
  'r',
  'reel',
  'G major roll',
  'bramulten',
  'bramultne of the',
  'GABd',
  'DEFGABcd',
  'zzzz zzzz',
];

const pick = <T>(from: readonly T[], random: Random): T => {
  const found = from[Math.floor(random.next() * from.length)];
  if (found === undefined) throw new RangeError('nothing to pick from');
  return found;
};
const wordOf = (random: Random): string => [1, 2, 3].map(() => pick(SYLLABLES, random)).join('');

/** Sixteen bars of quavers that wander by step and third. */
const tuneOf = (n: number, random: Random): string => {
  let at = 5;
  const bar = (): string => {
    const notes = Array.from({ length: 8 }, () => {
      at = Math.max(0, Math.min(NOTES.length - 1, at + pick([-2, -1, -1, 1, 1, 2], random)));
      return NOTES[at] ?? 'G';
    });
    return `${notes.slice(0, 4).join('')} ${notes.slice(4).join('')}|`;
  };
  const part = (): string => `|:${Array.from({ length: 8 }, bar).join('')}`.replace(/\|$/, ':|');
  const title = `The ${wordOf(random)} of ${wordOf(random)}`;
  return `X:1\nT:${title}\nR:reel\nM:4/4\nL:1/8\nK:${KEYS[n % KEYS.length]}\n${part()}\n${part()}\n`;
};

const makeShelf = (folder: string): void => {
  const random = randomFrom(5000);
  for (let n = 0; n < LESSONS; n += 1) {
    const lesson = join(folder, `lesson-${n}`);
    mkdirSync(lesson, { recursive: true });
    writeFileSync(join(lesson, 'tune.abc'), tuneOf(n, random));
    writeFileSync(join(lesson, 'lesson.json'), '{ "format": "tuneladder-lesson", "version": 1 }\n');
  }
};

const seconds = (began: number): number => Math.round((performance.now() - began) / 10) / 100;

/** The slowest of all queries, each the fastest of five times, in milliseconds. */
const slowestQuery = (shelf: Shelf): number => {
  const times = QUERIES.map((words) => {
    const runs = Array.from({ length: 5 }, () => {
      const began = performance.now();
      shelf.search(words);
      return performance.now() - began;
    });
    return Math.min(...runs);
  });
  return Math.round(Math.max(...times) * 10) / 10;
};

/** How fast a shelf of five thousand lessons opens and is searched. */
export const table = async (): Promise<MeasureTable> => {
  const folder = mkdtempSync(join(tmpdir(), 'tuneladder-bench-'));
  const open = (): Promise<Shelf> => openShelf({ folder, now: () => new Date() });
  try {
    makeShelf(folder);
    let began = performance.now();
    const first = await open();
    const opened = seconds(began);
    await first.completed();
    const known = seconds(began);
    const query = slowestQuery(first);
    await first.close();
    began = performance.now();
    const second = await open();
    const again = seconds(began);
    await second.close();
    return {
      title: `My lessons: a shelf of ${LESSONS}`,
      command: COMMAND,
      rows: [
        { what: 'slowest query, ms', ours: query, target: '≤ 50', holds: query <= 50 },
        {
          what: 'opened without an index, all titles known, s',
          ours: opened,
          target: 'reported',
          holds: null,
        },
        { what: 'all known of every lesson, s', ours: known, target: 'reported', holds: null },
        { what: 'opened with its index, s', ours: again, target: 'reported', holds: null },
      ],
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};
