import { readFileSync } from 'node:fs';
import { readBank } from '../src/audio/index.ts';
import { examined } from './listenParts/examine.ts';
import { KINDS, type Kind, recipeOf } from './listenParts/kinds.ts';
import { type Half, tunesOf } from './listenParts/material.ts';
import { balanceOf } from './listenParts/notes.ts';
import { takeOf } from './listenParts/takes.ts';
import type { MeasureRow, MeasureTable } from './table.ts';

const ROOT = new URL('../', import.meta.url);
const bank = readBank(
  readFileSync(new URL('assets/bank/bank.json', ROOT), 'utf8'),
  readFileSync(new URL('assets/bank/bank.pcm', ROOT)),
);

const at = (value: number): number => Number(value.toFixed(3));

const rowsOf = (name: string, half: Half, kind: Kind, speed: number): readonly MeasureRow[] => {
  const k = KINDS.indexOf(kind);
  const found = tunesOf(half, ROOT).map((tune, i) =>
    examined(takeOf(tune, { ...recipeOf(kind, k, i), speed }, bank), tune, false),
  );
  const draft = found.reduce((sum, f) => sum + f.draft, 0) / Math.max(1, found.length);
  const row = (what: string, ours: number): MeasureRow => ({
    what: `${name}, ${kind.name}: ${what}`,
    ours: at(ours),
    target: 'reported',
    holds: null,
  });
  return [
    row(`beat F, metre given, ${found.length} takes`, balanceOf(found.map((f) => f.beats))),
    row('merged draft: written notes found, mean', draft),
  ];
};

/** Beats and drafts of the tunes that numbers are set on, so that nobody takes the other half's for luck. */
export const table = async (): Promise<MeasureTable> => {
  const asked = KINDS.slice(0, 3);
  return {
    title: 'Listening to the tunes that numbers are set on',
    command: 'npm run measure -- listenTuning',
    rows: [
      ...asked.flatMap((kind) => rowsOf('first tunes', 'tuning', kind, 1)),
      ...asked.flatMap((kind) => rowsOf('more tunes', 'more', kind, 1)),
      ...[0.65, 0.5].flatMap((speed) =>
        asked
          .filter(({ name }) => name !== '78')
          .flatMap((kind) => rowsOf(`more tunes at ${100 * speed} % of the tempo`, 'more', kind, speed)),
      ),
    ],
  };
};
