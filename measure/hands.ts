import { hasOddBeats } from '../src/fiddle/index.ts';
import { corpusTunes } from './bonesParts/material.ts';
import {
  barsIn,
  downShare,
  newBowTally,
  newStyleTally,
  type StyleTally,
  tallyBow,
  tallyStyles,
} from './handsParts/bow.ts';
import { newEaseTally, tallyEase } from './handsParts/ease.ts';
import {
  newFingerTally,
  PROFESSIONALS,
  PROFESSIONALS_OPEN,
  tallyFingers,
  usualFinger,
} from './handsParts/fingers.ts';
import { newStayTally, tallyStays } from './handsParts/stays.ts';
import type { MeasureRow, MeasureTable } from './table.ts';

const COMMAND = 'npm run measure -- hands';

const share = (part: number, all: number): number =>
  all > 0 ? Math.round((10_000 * part) / all) / 10_000 : 0;
const median = (values: readonly number[]): number =>
  Math.round(10 * (values.toSorted((a, b) => a - b)[values.length >> 1] ?? 0)) / 10;

const openRow = (name: keyof typeof PROFESSIONALS_OPEN, ours: number): MeasureRow => ({
  what: `${name} on the open string`,
  ours: Math.round(ours * 1000) / 1000,
  target: `≥ ${PROFESSIONALS_OPEN[name]} (fiddlers more often still)`,
  yardstick: PROFESSIONALS_OPEN[name],
  holds: ours >= PROFESSIONALS_OPEN[name],
});

const atLeast = (what: string, ours: number, target: number): MeasureRow => ({
  what,
  ours,
  target: `≥ ${target}`,
  holds: ours >= target,
});
const atMost = (what: string, ours: number, target: number): MeasureRow => ({
  what,
  ours,
  target: `≤ ${target}`,
  holds: ours <= target,
});
const reported = (what: string, ours: number | string, target = 'reported'): MeasureRow => ({
  what,
  ours,
  target,
  holds: null,
});

const fingerRows = (tally: ReturnType<typeof newFingerTally>): readonly MeasureRow[] => {
  const agree = [...PROFESSIONALS].filter(([midi, finger]) => usualFinger(tally, midi).usual === finger);
  const other = [...PROFESSIONALS].filter(([midi, finger]) => usualFinger(tally, midi).usual !== finger);
  const found = other.map(([midi, finger]) => `${finger}: ${usualFinger(tally, midi).usual || 'not played'}`);
  return [
    {
      what: `pitches of first position with the professionals' usual finger${found.length > 0 ? ` (otherwise ${found.join(', ')})` : ''}`,
      ours: `${agree.length} of ${PROFESSIONALS.size}`,
      target: `${PROFESSIONALS.size} of ${PROFESSIONALS.size}`,
      holds: other.length === 0,
    },
    openRow('D4', usualFinger(tally, 62).open),
    openRow('A4', usualFinger(tally, 69).open),
    openRow('E5', usualFinger(tally, 76).open),
    atLeast('notes from G3 to B5 that are fingered', share(tally.fingered, tally.within), 1),
    atMost(
      `needless crossings there and back in runs (of ${tally.couldStay} places where the fourth finger stays)`,
      share(tally.needless, tally.couldStay),
      0.05,
    ),
    reported(
      `two notes at once laid on neighbouring strings (of ${tally.pairs})`,
      share(tally.pairsLaid, tally.pairs),
    ),
  ];
};

const easeRows = (tally: ReturnType<typeof newEaseTally>): readonly MeasureRow[] => [
  atMost('bars harder in plain than in full', share(tally.plainHarderBars, tally.bars), 0),
  atMost(
    `bars harder in the bones than in plain (${tally.bonesHarderBars} of ${tally.bars})`,
    share(tally.bonesHarderBars, tally.bars),
    0.001,
  ),
  atMost('tunes with a simpler version that is harder', share(tally.harderTunes, tally.tunes), 0),
  atLeast('bones strictly easier, where notes were taken away', share(tally.easier, tally.lightened), 1),
  reported(
    'work a second at `steady`, median of full, plain, bones',
    [tally.work.full, tally.work.plain, tally.work.bones].map(median).join(' · '),
  ),
];

const rounded = (value: number): number => Math.round(value * 1000) / 1000;

/** What DESIGN asks of repairs and styles, for metres in which bars open down as a rule. */
const styleRows = (even: StyleTally, odd: StyleTally): readonly MeasureRow[] => {
  const down = (of: (tally: StyleTally) => Parameters<typeof downShare>[0]): number =>
    rounded(downShare(of(even)));
  const repairs = (tally: StyleTally): number =>
    Math.round((1000 * tally.repairs) / Math.max(1, barsIn(tally.repaired))) / 10;
  return [
    atLeast(
      'bars that open down after repairs, metres of two and four beats',
      down((t) => t.repaired),
      0.95,
    ),
    atMost('repairs per 100 bars there', repairs(even), 35),
    reported(
      'the same in metres of three beats, which start up by rule: before, after, repairs per 100 bars',
      [rounded(downShare(odd.written)), rounded(downShare(odd.repaired)), repairs(odd)].join(' · '),
    ),
    atLeast(
      'bars that open down without a retake: separate',
      down((t) => t.separate),
      0.95,
    ),
    atLeast(
      '… slurs on the beat',
      down((t) => t.onTheBeat),
      0.95,
    ),
    atLeast(
      '… hooked',
      down((t) => t.hooked),
      0.95,
    ),
    atLeast(
      'part starts that open down, slurs into the beat',
      share(even.partStartsDown + odd.partStartsDown, even.partStarts + odd.partStarts),
      0.95,
    ),
    reported(
      '… in metres of three beats: separate, on the beat, hooked',
      [odd.separate, odd.onTheBeat, odd.hooked].map((t) => rounded(downShare(t))).join(' · '),
    ),
  ];
};

const stayRows = (tally: ReturnType<typeof newStayTally>): readonly MeasureRow[] => [
  reported(
    `parts of the bones with a finger that stays down (of ${tally.parts}; ${tally.stays} stay-downs in all)`,
    share(tally.partsWithOne, tally.parts),
  ),
  atMost('stay-downs that the fingering contradicts', tally.false, 0),
];

/** Fingers, bow and difficulty over both shared corpora. */
export const table = async (): Promise<MeasureTable> => {
  const title = 'Hands';
  const scores = corpusTunes();
  if (scores === null) return { title, command: COMMAND, rows: [], skipped: '../shared/data/corpora' };
  const [fingers, bow, ease] = [newFingerTally(), newBowTally(), newEaseTally()];
  const [even, odd, stays] = [newStyleTally(), newStyleTally(), newStayTally()];
  for (const score of scores) {
    tallyStyles(score, hasOddBeats(score) ? odd : even);
    tallyStays(score, stays);
    tallyFingers(score, fingers);
    tallyBow(score, bow);
    tallyEase(score, ease);
  }
  return {
    title,
    command: COMMAND,
    rows: [
      ...fingerRows(fingers),
      reported(
        'full bars that open with a down-bow, strict alternation over the printed slurs',
        share(Math.round(downShare(bow) * 1000), 1000),
        'reported (about .65)',
      ),
      reported('full bars with an odd number of strokes', share(bow.odd, barsIn(bow))),
      reported('full bars that a slur or tie leads into', share(bow.carried, barsIn(bow))),
      ...styleRows(even, odd),
      ...stayRows(stays),
      ...easeRows(ease),
    ],
  };
};
