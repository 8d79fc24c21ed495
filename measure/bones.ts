import { corpusTunes, measured } from './bonesParts/material.ts';
import { nearestShare, profileOf } from './bonesParts/nearest.ts';
import { rowsOf } from './bonesParts/rows.ts';
import { newTally, tallyTune } from './bonesParts/tally.ts';
import type { MeasureRow, MeasureTable } from './table.ts';

const COMMAND = 'npm run measure -- bones';
const rounded = (value: number): number => Math.round(value * 1000) / 1000;

/** Bones against the plain version over both shared corpora, mechanical thinning beside them. */
export const table = async (): Promise<MeasureTable> => {
  const scores = corpusTunes();
  const title = 'Bones';
  if (scores === null) return { title, command: COMMAND, rows: [], skipped: '../shared/data/corpora' };
  const tunes = scores.map(measured);
  const [ours, yardstick] = [newTally(), newTally()];
  for (const tune of tunes) {
    tallyTune(tune, ours);
    tallyTune({ plain: tune.plain, bones: tune.thinned, lessWork: true }, yardstick);
  }
  const profiles = tunes.map((t) => ({
    plain: profileOf(t.plain),
    bones: profileOf(t.bones),
    thinned: profileOf(t.thinned),
  }));
  const plain = profiles.map((p) => p.plain);
  const nearest = (of: 'whole' | 'hook', bound: number): MeasureRow => {
    const share = nearestShare(
      plain,
      profiles.map((p) => p.bones),
      of,
    );
    const thinned = nearestShare(
      plain,
      profiles.map((p) => p.thinned),
      of,
    );
    return {
      what: `nearest to its own tune among all, ${of === 'whole' ? 'whole' : 'bars 1–2'}`,
      ours: rounded(share),
      target: `≥ ${String(bound).slice(1)}`,
      yardstick: rounded(thinned),
      holds: share >= bound,
    };
  };
  const rows = [...rowsOf(ours, yardstick), nearest('whole', 0.99), nearest('hook', 0.97)];
  return { title: `Bones (${tunes.length} tunes, ${ours.bars} bars)`, command: COMMAND, rows };
};
