import { corpusTunes, type Measured, measured } from './bonesParts/material.ts';
import { rowsOf } from './bonesParts/rows.ts';
import { TICKS } from './bonesParts/sounded.ts';
import { newTally, tallyTune } from './bonesParts/tally.ts';
import type { MeasureRow, MeasureTable } from './table.ts';

const COMMAND = 'npm run measure -- bonesByMetre';

/** Rows that differ from metre to metre; the others are the same everywhere. */
const SHOWN: readonly string[] = [
  'off-beats kept (simple time)',
  'running-note places filled, mean',
  'tunes with 42–70 % filled',
  'running bars that keep a running note',
  'already simple bars left alone',
  'time in unison with plain',
  'held harsh share',
  'new leaps over a fifth per 100 bars',
  'easier, where there was something to take away',
];

/** Groups with fewer tunes are counted together. */
const FEWEST_TUNES = 10;

const metreOf = (tune: Measured): string => {
  const bar = tune.plain.find((b) => b.role === 'full') ?? tune.plain[0];
  if (bar === undefined) return 'no bars';
  const { metre } = bar;
  // In 2/4 the places are semiquavers always; what runs there is told from the notes.
  const shortest = tune.plain.flatMap((b) => b.notes).filter((n) => n.sounding <= TICKS / 16).length;
  const all = tune.plain.flatMap((b) => b.notes).length;
  if (metre !== '2/4') return metre;
  return `2/4 in ${3 * shortest > all ? 'semiquavers' : 'quavers'}`;
};

/** The bones by metre and running note, mechanical thinning beside them. */
export const table = async (): Promise<MeasureTable> => {
  const scores = corpusTunes();
  const title = 'Bones by metre and running note';
  if (scores === null) return { title, command: COMMAND, rows: [], skipped: '../shared/data/corpora' };
  const groups = new Map<string, Measured[]>();
  for (const tune of scores.map(measured)) {
    const metre = metreOf(tune);
    groups.set(metre, [...(groups.get(metre) ?? []), tune]);
  }
  const rare = [...groups].filter(([, tunes]) => tunes.length < FEWEST_TUNES);
  for (const [metre] of rare) groups.delete(metre);
  groups.set(
    'other metres',
    rare.flatMap(([, tunes]) => tunes),
  );
  const rows = [...groups].flatMap(([metre, tunes]): readonly MeasureRow[] => {
    const [ours, yardstick] = [newTally(), newTally()];
    for (const tune of tunes) {
      tallyTune(tune, ours);
      tallyTune({ plain: tune.plain, bones: tune.thinned, lessWork: true }, yardstick);
    }
    return rowsOf(ours, yardstick)
      .filter((row) => SHOWN.includes(row.what))
      .map((row) => ({ ...row, what: `${metre} (${tunes.length} tunes): ${row.what}`, holds: null }));
  });
  return { title, command: COMMAND, rows };
};
