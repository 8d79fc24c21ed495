import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { midiOf, staffStepOf } from '../music/index.ts';
import { writeAbcBar } from '../notation/index.ts';
import { readOne } from '../notation/testing/readOne.ts';
import { scoreArbitrary } from '../notation/testing/scoreArbitrary.ts';
import { barsOf, fingerprintOf, type Score, writtenLengthOf } from '../score/index.ts';
import { gridsOf } from './grid.ts';
import {
  type BonesChoice,
  bonesChoicesOf,
  bonesOf,
  type ChoiceReason,
  type ChoicesOfBar,
  choiceWords,
  plainOf,
  withKeptBars,
} from './index.ts';
import { type LineBar, lineOf } from './line.ts';

const REEL = 'R:reel\nM:4/4\nL:1/8\nK:D';
const REEL_MUSIC = '|:D2FA dAFA|Bcdf e2AF|D2FA dAFA|gfec d2cd|fdef gefd|edce dBAF|Bcde fgaf|gfec d2d2:|';

// Small tunes of our own, one for each way in which a bar may be counted.
const TUNES: Readonly<Record<string, readonly [header: string, music: string]>> = {
  reel: [REEL, REEL_MUSIC],
  jig: ['R:jig\nM:6/8\nL:1/8\nK:Ador', '|:e|ABA cBA|edB def|gfe dBG|A3 A2:|'],
  'slip jig': ['R:slip jig\nM:9/8\nL:1/8\nK:Edor', '|:BEE BEE dBA|BEE BEG FGA|AGF GEF D3:|'],
  slide: ['R:slide\nM:12/8\nL:1/8\nK:D', '|:d2e f2d e2c dBA|B2d A2F E2D D3:|'],
  strathspey: ['R:strathspey\nM:C\nL:1/8\nK:A', 'A>BA<c e>fe<c|d>fe<c B2 B<d|A<Ac>B A2 A2|]'],
  waltz: ['R:waltz\nM:3/4\nL:1/8\nK:G', '|:D2|G3A BA|G2D2E2|c3B AG|B4:|'],
  'semiquaver polka': ['R:polka\nM:2/4\nL:1/16\nK:D', '|:f2ed A2FA|BdcB A2FA|GFED D4:|'],
  ties: [REEL, 'd2fd A2d2-|d2fd gfed-|dcBA GABc|d2dc d4|]'],
  triplets: [REEL, '(3ABA FA d2(3fed|(3gfe (3fed e2A2|ecAc d4|]'],
};

interface Made {
  readonly plain: Score;
  readonly bones: Score;
  readonly all: readonly ChoicesOfBar[];
}

const choicesIn = (written: Score): Made => {
  const plain = plainOf(written);
  const bones = bonesOf(plain);
  return { plain, bones, all: bonesChoicesOf(plain, bones) };
};

/** Onset and pitch of each struck note of a bar: what reasons are judged by, counted from the notes and not from flags. */
const struckIn = (
  { notes }: LineBar,
  ticks: number,
): readonly { readonly at: number; readonly midi: number }[] =>
  notes.map(({ at, midi }) => ({ at: at / ticks, midi }));

interface Heard {
  readonly own: readonly { readonly at: number; readonly midi: number }[];
  readonly derived: readonly { readonly at: number; readonly midi: number }[];
  readonly plain: LineBar;
  readonly ticks: number;
  /** In ticks. */
  readonly beat: number;
}

const isTrue = (reason: ChoiceReason, { own, derived, plain, ticks, beat }: Heard): boolean => {
  const has = (list: Heard['own'], at: number): boolean => list.some((n) => Math.abs(n.at - at) < 1e-9);
  switch (reason.kind) {
    case 'derived':
      return JSON.stringify(own) === JSON.stringify(derived);
    case 'fuller':
      return own.length > derived.length;
    case 'sparser':
      return own.length < derived.length;
    case 'allNotes':
      return own.length === plain.notes.length && own.length > derived.length;
    case 'onlyBeats':
      return (
        own.length < derived.length &&
        own.every(({ at }) => Math.round(at * ticks + plain.offset) % beat === 0)
      );
    case 'topNote': {
      const top = Math.max(...plain.notes.map(({ midi }) => midi));
      const isTop = (n: { readonly midi: number }): boolean => n.midi === top;
      return midiOf(reason.pitch) === top && own.some(isTop) && !derived.some(isTop);
    }
    case 'run': {
      // Some three plain notes in a row that end on that pitch and go by step that way are all there.
      return plain.notes.some((last, i) => {
        const run = plain.notes.slice(Math.max(0, i - 2), i + 1);
        const steps = run.slice(1).map((n, k) => n.staffStep - (run[k]?.staffStep ?? 0));
        const goes = run.length === 3 && steps.every((s) => s === (reason.up ? 1 : -1));
        return (
          goes &&
          staffStepOf(reason.to) === last.staffStep &&
          run.every((n) => has(own, n.at / ticks)) &&
          own.some(({ at }) => !has(derived, at))
        );
      });
    }
    case 'instead': {
      const midisOf = (pitches: readonly (typeof reason.gained)[number][]): string =>
        pitches.map(midiOf).join();
      const only = (here: Heard['own'], there: Heard['own']): string =>
        here.flatMap((n) => (has(there, n.at) ? [] : [n.midi])).join();
      return midisOf(reason.gained) === only(own, derived) && midisOf(reason.lost) === only(derived, own);
    }
    case 'evenStrokes':
      return reason.strokes === own.length && own.length % 2 === 0;
    case 'oddStrokes':
      return reason.strokes === own.length && own.length % 2 === 1;
    default:
      return reason satisfies never;
  }
};

/** What must be true of the choices for any tune; returns how many there were. */
const lawsHold = ({ plain, bones, all }: Made): number => {
  const [plainLine, bonesLine] = [lineOf(plain), lineOf(bones)];
  const gridFor = gridsOf(plain, plainLine.ticks, 'byBooks');
  const like = new Map<string, string>();
  let offered = 0;
  barsOf(plain).forEach(({ bar, part, index }, b) => {
    const { choices, ...at } = all[b] as ChoicesOfBar;
    expect(at).toEqual({ part, bar: index });
    expect(choices.length).toBeGreaterThan(0);
    expect(choices.length).toBeLessThanOrEqual(5);
    const sounds = choices.map(({ events }) => fingerprintOf({ ...bar, events }));
    expect(sounds[0]).toBe(fingerprintOf(barsOf(bones)[b]?.bar ?? bar));
    expect(new Set(sounds).size).toBe(sounds.length);
    for (const { events, reasons } of choices) {
      offered += 1;
      expect(writtenLengthOf({ ...bar, events })).toEqual(writtenLengthOf(bar));
      const { score, verdicts } = withKeptBars(bones, plain, [{ part, bar: index, events }]);
      expect(verdicts).toEqual([{ kind: 'inForce', clashes: [], newOnsets: [] }]);
      const line = lineOf(score);
      const heard: Heard = {
        own: struckIn(line.bars[b] as LineBar, line.ticks),
        derived: struckIn(bonesLine.bars[b] as LineBar, bonesLine.ticks),
        plain: plainLine.bars[b] as LineBar,
        ticks: plainLine.ticks,
        beat: gridFor(plainLine.bars[b] as LineBar).beat,
      };
      expect(reasons.length).toBeGreaterThan(0);
      expect(reasons.filter((reason) => !isTrue(reason, heard))).toEqual([]);
    }
    const { carried } = plainLine.bars[b] as LineBar;
    const key = `${bar.role} ${carried === null} ${fingerprintOf(bar)} ${sounds[0]}`;
    expect(sounds.join('; ')).toBe(like.get(key) ?? sounds.join('; '));
    like.set(key, sounds.join('; '));
  });
  return offered;
};

describe('choices for each bar', () => {
  test.each(Object.entries(TUNES))(
    'of a %s obey the laws of the bones, and their reasons are true',
    (_, [header, music]) => {
      expect(lawsHold(choicesIn(readOne(music, header).score))).toBeGreaterThan(3);
    },
  );
  test('of any tune do so too', () => {
    let offered = 0;
    fc.assert(
      fc.property(scoreArbitrary, (score) => {
        offered += lawsHold(choicesIn(score));
      }),
      { seed: 20261125, numRuns: 40 },
    );
    expect(offered).toBeGreaterThan(100);
  });
  test('are three to five for every running bar of a reel', () => {
    const { all } = choicesIn(readOne(REEL_MUSIC, REEL).score);
    expect(all.every(({ choices }) => choices.length >= 3)).toBe(true);
  });
});

test('a teacher reads why', () => {
  const { plain, all } = choicesIn(readOne(REEL_MUSIC, REEL).score);
  const seen = (b: number): readonly string[] =>
    (all[b]?.choices ?? []).map(
      ({ events, reasons }: BonesChoice) =>
        `${writeAbcBar({ ...(barsOf(plain)[b]?.bar ?? never()), events }, plain.unit)} · ${choiceWords(reasons)}`,
    );
  expect(seen(6)).toMatchInlineSnapshot(`
    [
      "B2 d2 f2 a2 · the usual choice: four strokes, comes out on a down-bow",
      "B2 de f2 af · fuller: six strokes, comes out on a down-bow",
      "B3 e f2 a2 · E instead of D: four strokes, comes out on a down-bow",
      "B4 f2 a2 · sparser: three strokes, turns the bow round",
      "B4 f4 · barest: only the beats; two strokes, comes out on a down-bow",
    ]
  `);
});

const never = (): never => {
  throw new Error('no such bar');
};

test.each([
  [
    [{ kind: 'derived' }, { kind: 'evenStrokes', strokes: 4 }],
    'the usual choice: four strokes, comes out on a down-bow',
  ],
  [
    [{ kind: 'onlyBeats' }, { kind: 'oddStrokes', strokes: 3 }],
    'barest: only the beats; three strokes, turns the bow round',
  ],
  [[{ kind: 'sparser' }], 'sparser'],
] as const)('%j is said as "%s"', (reasons, words) => {
  expect(choiceWords(reasons)).toBe(words);
});
