import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readOne } from '../../notation/testing/readOne.ts';
import { type Anchor, anchorAt, anchorFinder, type BarTable, barTableOf, reAnchored } from './index.ts';

const SEED = { seed: 20261125, numRuns: 400 };

/** Tables in short: "A: a b c | B: d e". */
const tableOf = (text: string): BarTable =>
  text.split('|').map((part) => {
    const [label = '', bars = ''] = part.split(':');
    const words = bars.trim();
    return { part: label.trim(), bars: words === '' ? [] : words.split(' ') };
  });

const anchorIn = (table: BarTable, part: string, bar: number): Anchor => {
  const plain = table.find((p) => p.part === part)?.bars[bar];
  if (plain === undefined) throw new RangeError(`no bar ${part}/${bar}`);
  return { part, bar, plain };
};

/** "same A/1 b", "changed B/0 z", "orphan". */
const whereTo = (before: string, now: string, at: string): string => {
  const [part = '', bar = ''] = at.split('/');
  const table = tableOf(before);
  const found = anchorFinder(table, tableOf(now))(anchorIn(table, part, Number(bar)));
  return found.kind === 'orphan'
    ? 'orphan'
    : `${found.kind} ${found.anchor.part}/${found.anchor.bar} ${found.anchor.plain}`;
};

describe('an anchor follows its bar', () => {
  test.each([
    ['nothing has changed', 'A: a b c', 'A: a b c', 'A/1', 'same A/1 b'],
    ['a bar was put in before', 'A: a b c', 'A: a n b c', 'A/1', 'same A/2 b'],
    ['a bar was taken out before', 'A: a b c', 'A: b c', 'A/1', 'same A/0 b'],
    ['its bar was changed', 'A: a b c', 'A: a n c', 'A/1', 'changed A/1 n'],
    ['its bar was taken out', 'A: a b c', 'A: a c', 'A/1', 'orphan'],
    ['the part was renamed', 'A: a b c', 'Turn: a b c', 'A/1', 'same Turn/1 b'],
    ['the part was cut in two', 'A: a b c d', 'A: a b | B: c d', 'A/2', 'same B/0 c'],
    ['two parts were joined', 'A: a b | B: c d', 'A: a b c d', 'B/1', 'same A/3 d'],
    ['the parts changed places', 'A: a b c | B: d e f g', 'A: d e f g | B: a b c', 'A/1', 'same B/1 b'],
    ['a bar was put in and another changed', 'A: a b c d', 'A: n a b m d', 'A/2', 'changed A/3 m'],
    ['all is new, bar for bar', 'A: a b c', 'A: k l m', 'A/1', 'changed A/1 l'],
    ['all is gone', 'A: a b c', 'A:', 'A/1', 'orphan'],
  ])('%s', (_, before, now, at, expected) => {
    expect(whereTo(before, now, at)).toBe(expected);
  });

  test('of two bars in its place it takes the one that is more like it', () => {
    const before: BarTable = [{ part: 'A', bars: ['a', 'D4:1/4 E4:1/4', 'c'] }];
    const now: BarTable = [{ part: 'A', bars: ['a', 'G4:1/2', 'D4:1/4 F4:1/4', 'c'] }];
    expect(anchorFinder(before, now)(anchorIn(before, 'A', 1))).toEqual({
      kind: 'changed',
      anchor: { part: 'A', bar: 2, plain: 'D4:1/4 F4:1/4' },
    });
  });

  test.each([
    ['a x b x', 'n a x b x', 'A/3', 'same A/4 x'],
    ['a x b x', 'a x b n x', 'A/1', 'same A/1 x'],
    ['x x x', 'n x x x', 'A/1', 'same A/2 x'],
    ['a x b x', 'b x', 'A/3', 'same A/1 x'],
    ['a x b x', 'a n b x', 'A/1', 'changed A/1 n'],
  ])('equal bars keep their ordinal: %s → %s', (before, now, at, expected) => {
    expect(whereTo(`A: ${before}`, `A: ${now}`, at)).toBe(expected);
  });
});

describe('orphans', () => {
  const before = tableOf('A: a b c d');
  const without = tableOf('A: a b d');
  const first = anchorIn(before, 'A', 2);
  const orphan = reAnchored({ anchor: first }, anchorFinder(before, without)(first));

  test('keep the anchor that they had', () => {
    expect(orphan.anchor).toEqual(anchorIn(before, 'A', 2));
  });
  test('take their bar again when it comes back, after the lesson was saved without it', () => {
    expect(anchorFinder(without, before)(orphan.anchor)).toEqual({ kind: 'same', anchor: orphan.anchor });
  });
  test('never take an equal bar that has stood elsewhere all the time', () => {
    const [two, one] = [tableOf('A: x b x d'), tableOf('A: x b d')];
    const gone = anchorIn(two, 'A', 2);
    expect(anchorFinder(two, one)(gone).kind).toBe('orphan');
    expect(anchorFinder(one, tableOf('A: x b d e'))(gone).kind).toBe('orphan');
  });
  test('without a table any equal bar will do, the nearest in the part first', () => {
    const now = tableOf('A: x b x d | B: x');
    const find = anchorFinder(null, now);
    expect(find({ part: 'A', bar: 2, plain: 'x' })).toEqual({ kind: 'same', anchor: anchorIn(now, 'A', 2) });
    expect(find({ part: 'B', bar: 9, plain: 'x' })).toEqual({ kind: 'same', anchor: anchorIn(now, 'B', 0) });
    expect(find({ part: 'C', bar: 0, plain: 'y' }).kind).toBe('orphan');
  });
});

// Laws. An edit is a walk along the bars: each is kept, changed or taken out, and new ones are put in before it.

type Step = { readonly kind: 'keep' | 'change' | 'delete'; readonly before: number };
const step: fc.Arbitrary<Step> = fc.record({
  kind: fc.constantFrom(
    'keep' as const,
    'keep' as const,
    'keep' as const,
    'change' as const,
    'delete' as const,
  ),
  before: fc.constantFrom(0, 0, 0, 0, 1, 2),
});

interface Edit {
  readonly before: BarTable;
  readonly now: BarTable;
  /** For each old bar where it stands now; null where it was changed or taken out. */
  readonly untouched: readonly { readonly old: Anchor; readonly now: Anchor }[];
}

/** Bars that come again must not be touched: nobody could say which of them is which. */
const edited = (parts: readonly (readonly string[])[], steps: readonly Step[], rename: boolean): Edit => {
  let made = 0;
  let at = 0;
  const fresh = (): string => {
    made += 1;
    return `new${made}`;
  };
  const counts = new Map<string, number>();
  for (const bar of parts.flat()) counts.set(bar, (counts.get(bar) ?? 0) + 1);
  const untouched: { old: Anchor; now: Anchor }[] = [];
  const before = parts.map((bars, i) => ({ part: `P${i}`, bars }));
  const now = before.map(({ part, bars }) => {
    const label = rename ? `${part}'` : part;
    const result: string[] = [];
    bars.forEach((plain, bar) => {
      const { kind, before: put } = steps[at % steps.length] ?? { kind: 'keep', before: 0 };
      at += 1;
      for (let i = 0; i < put; i += 1) result.push(fresh());
      const own = (counts.get(plain) ?? 0) > 1 ? 'keep' : kind;
      if (own === 'keep') {
        untouched.push({ old: { part, bar, plain }, now: { part: label, bar: result.length, plain } });
        result.push(plain);
      } else if (own === 'change') result.push(fresh());
    });
    return { part: label, bars: result };
  });
  return { before, now, untouched };
};

const bars = fc.array(fc.array(fc.constantFrom(...'abcdefghijklmnop'), { maxLength: 10 }), {
  minLength: 1,
  maxLength: 4,
});

test('anchors of untouched bars follow their bar, whatever is put in, taken out or changed around it', () => {
  let followed = 0;
  fc.assert(
    fc.property(
      bars,
      fc.array(step, { minLength: 1, maxLength: 17 }),
      fc.boolean(),
      (parts, steps, rename) => {
        const { before, now, untouched } = edited(parts, steps, rename);
        const find = anchorFinder(before, now);
        for (const { old, now: expected } of untouched) {
          expect(find(old)).toEqual({ kind: 'same', anchor: expected });
          followed += 1;
        }
      },
    ),
    SEED,
  );
  expect(followed).toBeGreaterThan(1000);
});

test('no two bars become one, and what is found is there', () => {
  fc.assert(
    fc.property(bars, bars, (one, other) => {
      const table = (parts: readonly (readonly string[])[]): BarTable =>
        parts.map((own, i) => ({ part: `P${i}`, bars: own }));
      const [before, now] = [table(one), table(other)];
      const find = anchorFinder(before, now);
      const places = new Set<string>();
      let found = 0;
      for (const { part, bars: own } of before) {
        own.forEach((plain, bar) => {
          const to = find({ part, bar, plain });
          if (to.kind === 'orphan') return;
          found += 1;
          places.add(`${to.anchor.part}/${to.anchor.bar}`);
          expect(now.find((p) => p.part === to.anchor.part)?.bars[to.anchor.bar]).toBe(to.anchor.plain);
          expect(to.kind === 'same').toBe(to.anchor.plain === plain);
        });
      }
      expect(places.size).toBe(found);
      const [olds, news] = [one.flat().length, other.flat().length];
      expect(found).toBeLessThanOrEqual(Math.min(olds, news));
    }),
    SEED,
  );
});

test('a table of a tune has its bars by part, pick-ups too', () => {
  const { score } = readOne('|:D2|G2BG dGBG|A4 G2:|', 'R:reel\nM:4/4\nL:1/8\nK:G');
  expect(barTableOf(score)).toEqual([
    { part: 'A', bars: ['D4:1/4', 'G4:1/4 B4:1/8 G4:1/8 D5:1/8 G4:1/8 B4:1/8 G4:1/8', 'A4:1/2 G4:1/4'] },
  ]);
  expect(anchorAt(score, 'A', 2)).toEqual({ part: 'A', bar: 2, plain: 'A4:1/2 G4:1/4' });
  expect(anchorAt(score, 'A', 3)).toBeNull();
  expect(anchorAt(score, 'B', 0)).toBeNull();
});
