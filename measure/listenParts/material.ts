import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { danceOfScore } from '../../src/fiddle/index.ts';
import { barLengthOf, DANCES, type DanceId } from '../../src/music/index.ts';
import { readAbc } from '../../src/notation/index.ts';
import {
  barsOf,
  fieldsOf,
  notesOf,
  playedOrder,
  runningNoteOf,
  type Score,
  titleOf,
} from '../../src/score/index.ts';

/** A tune to make a recording of. */
export interface TakenTune {
  readonly name: string;
  readonly score: Score;
  readonly dance: DanceId;
  /** Times through that make a take of thirty bars or more. */
  readonly times: number;
}

/** Dances that recordings are made of, and how many tunes of each a half holds. */
const WANTED: readonly (readonly [DanceId, number])[] = [
  ['reel', 3],
  ['jig', 3],
  ['hornpipe', 1],
  ['polka', 1],
  ['slipJig', 1],
];
const DEMO = [
  'the-lantern-at-hollin-quay',
  'the-ferrymans-wet-coat',
  'the-left-handed-lamplighter',
  'seven-thimbles',
];

const here = (path: string, root: URL): URL => new URL(path, root);

const inFile = (file: URL): readonly Score[] =>
  readAbc(readFileSync(file, 'utf8'))
    .tunes.filter((t) => !t.diagnostics.some((d) => d.severity === 'error'))
    .map((t) => t.score);

const corpusScores = (root: URL): readonly Score[] => {
  const folder = here('../shared/data/corpora/', root);
  if (!existsSync(folder)) return [];
  return ['oneill-1903-odd', 'nottingham-odd'].flatMap((name) => {
    const inside = here(`${name}/`, folder);
    const files = readdirSync(inside).filter((f) => f.endsWith('.abc'));
    return files.flatMap((f) => inFile(here(f, inside)));
  });
};

/**
 * A tune that a session would play: two parts or so of full bars, first-position notes, one metre, in running quavers.
 *
 * Dances' tempi are said for quavers: a hornpipe or polka written in semiquavers would be played twice as fast as anybody
 * plays it.
 */
const isPlayable = (score: Score): boolean => {
  const bars = barsOf(score);
  const numbered = bars.filter((b) => b.bar.role === 'full');
  const full = barLengthOf(score.metre);
  const running = runningNoteOf(score);
  if (running.num !== 1 || running.den !== 8) return false;
  if (full === null || numbered.length < 16 || numbered.length > 34) return false;
  const order = playedOrder(score).length;
  return order >= 15 && order <= 38 && bars.every((b) => barLengthOf(b.bar.metre)?.num === full.num);
};

const danceIn = (score: Score): DanceId | null => {
  const said = fieldsOf(score, 'R').join(' ');
  const title = fieldsOf(score, 'T').join(' ');
  if (/polka/i.test(title) && score.metre.kind === 'measured' && score.metre.count === 2) return 'polka';
  return said === '' ? null : danceOfScore(score).id;
};

const titled = (score: Score, dance: DanceId, name: string): TakenTune => ({
  name,
  score,
  dance,
  times: playedOrder(score).length < 24 ? 2 : 1,
});

/** The half that settings are tuned on, more tunes of it, and the half that the table is made from. */
export type Half = 'tuning' | 'more' | 'table';

/**
 * The tunes of one half: settings are tuned on `tuning` and `more`, the table is made from `table`.
 * @param root - folder of the project
 * @returns demo tunes (one of each pair to each half), then tunes of the shared corpora where these are present
 */
export const tunesOf = (half: Half, root: URL): readonly TakenTune[] => {
  const parity = half === 'table' ? 1 : 0;
  const offset = half === 'more' ? 0.5 : 0;
  const demo = DEMO.filter((_, i) => half !== 'more' && i % 2 === parity).flatMap((name) =>
    inFile(here(`demo/lessons/${name}/tune.abc`, root)).map((s) => titled(s, danceOfScore(s).id, name)),
  );
  const titles = new Set<string>();
  const isNew = (s: Score): boolean => titles.size < titles.add(titleOf(s)).size;
  const corpus = corpusScores(root).filter((s) => notesOf(s).length > 0 && isPlayable(s) && isNew(s));
  const chosen = WANTED.flatMap(([dance, count]) => {
    const fitting = corpus.filter((s) => danceIn(s) === dance).filter((_, i) => i % 2 === parity);
    const step = Math.max(1, Math.floor(fitting.length / count));
    return Array.from({ length: count }, (_, i) => fitting[Math.floor((i + offset) * step)])
      .filter((s) => s !== undefined)
      .map((s, i) => titled(s, dance, `${DANCES[dance].name} ${i + 1}`));
  });
  return [...demo, ...chosen];
};
