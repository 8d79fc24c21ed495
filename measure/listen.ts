import { readFileSync } from 'node:fs';
import { readBank } from '../src/audio/index.ts';
import { hasAubio } from './listenParts/aubio.ts';
import { type Examined, examined } from './listenParts/examine.ts';
import { KINDS, type Kind, recipeOf } from './listenParts/kinds.ts';
import { type TakenTune, tunesOf } from './listenParts/material.ts';
import { balanceOf } from './listenParts/notes.ts';
import { bankTuning, hasStockBank, stockHeard } from './listenParts/stockTakes.ts';
import { type Recipe, takeOf } from './listenParts/takes.ts';
import type { MeasureRow, MeasureTable } from './table.ts';

const ROOT = new URL('../', import.meta.url);
const bank = readBank(
  readFileSync(new URL('assets/bank/bank.json', ROOT), 'utf8'),
  readFileSync(new URL('assets/bank/bank.pcm', ROOT)),
);

const BAR_LINES = 80;

const at = (value: number, digits: number): number => Number(value.toFixed(digits));
const mean = (values: readonly number[]): number =>
  values.reduce((a, b) => a + b, 0) / Math.max(1, values.length);
const quantile = (values: readonly number[], share: number): number =>
  values.toSorted((a, b) => a - b)[Math.min(values.length - 1, Math.floor(share * values.length))] ??
  Infinity;

const skippedRow = (what: string): MeasureRow => ({ what, ours: '', target: 'reported', holds: null });

const rowsOf = (kind: Kind, found: readonly Examined[]): readonly MeasureRow[] => {
  const row = (
    what: string,
    ours: number,
    target: string,
    holds: boolean | null,
    yardstick?: number,
  ): MeasureRow => ({
    what: `${kind.name}: ${what}`,
    ours,
    target,
    holds,
    ...(yardstick === undefined ? {} : { yardstick }),
  });
  const most = Math.max(...found.map((f) => f.tuningError));
  const notes = balanceOf(found.map((f) => f.notes));
  const theirs = found.flatMap((f) => (f.theirs === null ? [] : [f.theirs]));
  const beats = balanceOf(found.map((f) => f.beats));
  const swings = found.flatMap((f) => (f.swingError === null ? [] : [f.swingError]));
  const onsets = found.flatMap((f) => f.onsetErrors);
  const [median, most95] = [1000 * quantile(onsets, 0.5), 1000 * quantile(onsets, 0.95)];
  const bars =
    1000 *
    quantile(
      found.flatMap((f) => f.barErrors),
      0.99,
    );
  const draft = mean(found.map((f) => f.draft));
  return [
    row(
      `tuning error, most of ${found.length} takes, cents`,
      at(most, 1),
      `≤ ${kind.tuning}`,
      most <= kind.tuning,
    ),
    row(
      'note onset F (±50 ms, half a semitone)',
      at(notes, 3),
      `≥ ${kind.notes}`,
      notes >= kind.notes,
      theirs.length === 0 ? undefined : at(balanceOf(theirs), 3),
    ),
    row('cuts and strikes named, F', at(balanceOf(found.map((f) => f.flicks)), 2), 'reported', null),
    row('beat F (±70 ms), metre given', at(beats, 3), `≥ ${kind.beats}`, beats >= kind.beats),
    row(
      `swing error, mean of ${swings.length} takes`,
      at(mean(swings), 3),
      `≤ ${kind.swing}`,
      mean(swings) <= kind.swing,
    ),
    row('alignment onset, median, ms', at(median, 0), `≤ ${kind.onsets[0]}`, median <= kind.onsets[0]),
    row('alignment onset, 95 %, ms', at(most95, 0), `≤ ${kind.onsets[1]}`, most95 <= kind.onsets[1]),
    row('bar lines, 99 %, ms', at(bars, 0), `≤ ${BAR_LINES}`, bars <= BAR_LINES),
    row('merged draft: written notes found, mean', at(draft, 3), `≥ ${kind.draft}`, draft >= kind.draft),
  ];
};

const examine = (tune: TakenTune, recipe: Recipe, withAubio: boolean): Examined =>
  examined(takeOf(tune, recipe, bank), tune, withAubio);

/** The stock bank by FluidSynth: tuning, and tempo with the tune. */
const stockRows = (tunes: readonly TakenTune[]): readonly MeasureRow[] => {
  if (!hasStockBank())
    return [skippedRow('stock bank skipped: fluidsynth, fluid-soundfont-gm not installed')];
  const keys = bankTuning();
  const found = tunes.map((tune) => stockHeard(tune, keys));
  const tuning = Math.max(...found.map((f) => f.tuningErrorOfKeys));
  const byFork = Math.max(...found.map((f) => f.tuningError));
  const tempo = 100 * Math.max(...found.map((f) => f.tempoError));
  return [
    {
      what: `stock bank by fluidsynth: tuning error against its own keys, most of ${found.length} takes, cents`,
      ours: at(tuning, 1),
      target: '≤ 3',
      holds: tuning <= 3,
    },
    {
      what: 'stock bank by fluidsynth: the same against A = 440 Hz, off which the keys lie by up to 10 cents',
      ours: at(byFork, 1),
      target: 'reported',
      holds: null,
    },
    {
      what: 'stock bank by fluidsynth: tune given: tempo error, most, %',
      ours: at(tempo, 2),
      target: '≤ 1',
      holds: tempo <= 1,
    },
  ];
};

/** A long take: talk before, a stop in the middle, drift, five minutes and more. */
const longRows = (tune: TakenTune): readonly MeasureRow[] => {
  const found = examine(
    tune,
    { player: 'bank', times: 8, talk: 6, stop: 2.5, drift: 0.04, cents: -20 },
    false,
  );
  const bars = 1000 * quantile(found.barErrors, 0.99);
  return [
    {
      what: `talk, a stop, ${Math.round(found.seconds / 60)} minutes: bar lines, 99 %, ms`,
      ours: at(bars, 0),
      target: `≤ ${BAR_LINES}`,
      holds: bars <= BAR_LINES,
    },
  ];
};

/** What listening finds in generated recordings of the half of the tunes that no number was tuned on. */
export const table = async (): Promise<MeasureTable> => {
  const withAubio = hasAubio();
  const tunes = tunesOf('table', ROOT);
  const all: Examined[] = [];
  const rows = KINDS.flatMap((kind, k) => {
    const found = tunes.map((tune, i) => examine(tune, recipeOf(kind, k, i), withAubio));
    all.push(...found);
    for (const f of found)
      console.error(
        `${kind.name}: ${f.name}: notes ${at(balanceOf([f.notes]), 3)}, beats ${at(balanceOf([f.beats]), 3)}, draft ${at(f.draft, 3)}`,
      );
    return rowsOf(kind, found);
  });
  const share = all.reduce((sum, f) => sum + f.work, 0) / all.reduce((sum, f) => sum + f.seconds, 0);
  const [longest] = tunes;
  return {
    title: 'Listening to generated recordings',
    command: 'npm run measure -- listen',
    rows: [
      ...rows,
      ...stockRows(tunes),
      ...(longest === undefined ? [] : longRows(longest)),
      {
        what: 'processor time, share of real time',
        ours: at(share, 3),
        target: '≤ 0.15',
        holds: share <= 0.15,
      },
      ...(withAubio ? [] : [skippedRow('yardstick (aubio-tools) skipped: not installed')]),
    ],
  };
};
