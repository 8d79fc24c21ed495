import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { XmlDocument } from 'libxml2-wasm';
import { beforeAll, describe, expect, test } from 'vitest';
import { fingerMapOf, phraseMapOf } from '../lesson/index.ts';
import { elementIdOf } from '../notation/index.ts';
import { type BarWay, barsOf, notesOf } from '../score/index.ts';
import { plainOf } from '../versions/index.ts';
import { chordGridPages } from './chordGridPages.ts';
import { type Engraver, loadEngraver } from './engraver.ts';
import { engraveSheet } from './engraveSheet.ts';
import { fingerMapPages } from './fingerMapPages.ts';
import { withLineBows } from './lineBows.ts';
import { phraseMapPages } from './phraseMapPages.ts';
import type { Page, SheetPlan } from './sheetPlan.ts';
import { engraveSnippet } from './snippet.ts';
import { SAMPLES, samplePlan, sampleScore, withHands } from './testing/sampleTunes.ts';

const GALLERY = fileURLToPath(new URL('../../docs/gallery/', import.meta.url));
/** `UPDATE_GALLERY=1 npx vitest run --project unit src/engrave` draws the pictures anew; look at them before they are kept. */
const updating = process.env.UPDATE_GALLERY === '1';

let engraver: Engraver;
beforeAll(async () => {
  engraver = await loadEngraver();
});

const names = Object.keys(SAMPLES) as (keyof typeof SAMPLES)[];

describe('pages', () => {
  test.each(names.flatMap((name) => (['A4', 'Letter'] as const).map((paper) => [name, paper] as const)))(
    '%s on %s: one page alone, at most two together',
    (name, paper) => {
      expect(engraveSheet(samplePlan(name, { paper }), engraver)).toHaveLength(1);
      expect(engraveSheet(samplePlan(name, { paper, together: true }), engraver).length).toBeLessThanOrEqual(
        2,
      );
    },
  );
  test('large print takes more pages', () =>
    expect(engraveSheet(samplePlan('dressedReel', { largePrint: true }), engraver).length).toBeGreaterThan(
      1,
    ));
  test.each(names)('the maps of %s take a page each, the longest phrase map two', (name) => {
    const score = sampleScore(name);
    expect(fingerMapPages(samplePlan(name), fingerMapOf(score))).toHaveLength(1);
    expect(phraseMap(name).length).toBeLessThanOrEqual(2);
  });
  test('a tune without bars has its page', () => {
    const plan = samplePlan('polka');
    const empty = { ...plan.versions[0], score: { ...plan.versions[0].score, parts: [] } };
    expect(engraveSheet({ ...plan, versions: [empty] }, engraver)).toHaveLength(1);
  });
});

describe('other ways to play bars', () => {
  /** The plan with the events of its second bar as another way to play the first. */
  const withWay = (plan: SheetPlan, way: Pick<BarWay, 'played' | 'printed'>): SheetPlan => {
    const [version] = plan.versions;
    const events = barsOf(version.score)[1]?.bar.events ?? [];
    let at = 0;
    const parts = version.score.parts.map((part) => ({
      ...part,
      bars: part.bars.map((bar) => {
        at += 1;
        return at === 1 ? { ...bar, ways: [{ ...way, events }] } : bar;
      }),
    }));
    const [, ...others] = plan.versions;
    return { ...plan, versions: [{ ...version, score: { ...version.score, parts } }, ...others] };
  };
  const drawnWith = (played: BarWay['played'], printed: boolean, words: SheetPlan['words'] = 'british') =>
    engraveSheet(withWay(samplePlan('polka', { words }), { played, printed }), engraver);

  test('stand as small bars at the foot of the last page, named by bar and time', () => {
    const [page, ...more] = drawnWith('secondTimes', true);
    expect(more).toEqual([]);
    expect(page?.svg).toContain('Bar 1, the second time');
    expect(drawnWith('never', true)[0]?.svg).toContain('Bar 1, another way');
    expect(drawnWith('secondTimes', true, 'us')[0]?.svg).toContain('Measure 1, the second time');
    const plain = engraveSheet(samplePlan('polka'), engraver)[0]?.svg ?? '';
    const heads = (svg: string): number => svg.match(/class="note/g)?.length ?? 0;
    const notes = barsOf(sampleScore('polka'))[1]?.bar.events.length ?? 0;
    expect(heads(page?.svg ?? '') - heads(plain)).toBe(notes);
  });
  test('are left out where they are not to be printed, and where versions stand together', () => {
    expect(drawnWith('secondTimes', false)).toEqual(engraveSheet(samplePlan('polka'), engraver));
    const together = samplePlan('polka', { together: true });
    const plan = withWay(together, { played: 'secondTimes', printed: true });
    expect(engraveSheet(plan, engraver)).toEqual(engraveSheet(together, engraver));
  });
});

describe('what is on a page', () => {
  const idsIn = (pages: readonly Page[]): ReadonlySet<string> =>
    new Set(pages.flatMap((p) => [...p.svg.matchAll(/ id="([^"]*)"/g)].map((m) => m[1] ?? '')));
  test.each(names)('%s: every note, grace note and bar is drawn, and the page is well-formed', (name) => {
    const plan = samplePlan(name, { together: true });
    const pages = engraveSheet(plan, engraver);
    const ids = idsIn(pages);
    for (const { id, score } of plan.versions) {
      for (const { note, address } of notesOf(score)) {
        note.pitches.forEach((_, tone) => {
          expect(ids).toContain(elementIdOf(id, tone === 0 ? address : { ...address, tone }));
        });
        note.graces?.pitches.forEach((_, grace) => {
          expect(ids).toContain(elementIdOf(id, { ...address, grace }));
        });
      }
    }
    const text = pages.map((p) => p.svg).join('');
    for (const { bar } of barsOf(plan.versions[0].score))
      if (bar.number !== null) expect(text).toContain(`class="bar-number">${bar.number}</text>`);
    for (const page of pages) XmlDocument.fromString(page.svg).dispose();
  });
  test('as many slurs and rolls are drawn as are written', () => {
    const [page] = engraveSheet(samplePlan('dressedReel'), engraver);
    const opens = notesOf(samplePlan('dressedReel').versions[0].score).reduce(
      (n, { note }) => n + note.slurs.opens,
      0,
    );
    expect(opens).toBe(15);
    // A slur is the only filled path with round ends.
    expect(page?.svg.match(/stroke-linecap="round" stroke-linejoin="round"/g)).toHaveLength(opens);
    expect(page?.svg.match(/id="roll-/g)).toHaveLength(5);
    expect(page?.svg.match(/id="slide-/g)).toHaveLength(2);
  });
  test('markup in a title stays text', () => {
    const [page] = engraveSheet(samplePlan('longTitleSlipJig'), engraver);
    expect(page?.svg).toContain('&lt;b&gt;by the Long');
    expect(page?.svg).not.toContain('<b>');
  });
  test('a long part name stays on the paper', () => {
    const plan = samplePlan('polka');
    const [version] = plan.versions;
    const parts = version.score.parts.map((p, i) =>
      i === 0 ? { ...p, label: 'Introduction & <first> strain' } : p,
    );
    const versions = [{ ...version, score: { ...version.score, parts } }] as const;
    const [page] = engraveSheet({ ...plan, versions }, engraver);
    const names = [...(page?.svg.matchAll(/<text x="([^"]*)"[^>]*font-size="8" font-weight="bold">/g) ?? [])];
    expect(names.length).toBeGreaterThan(1);
    for (const [, x] of names) expect(Number(x)).toBeGreaterThan(0);
  });
  test('nothing on the page asks for a style sheet', () => {
    const [page] = engraveSheet(samplePlan('dressedReel'), engraver);
    expect(page?.svg).not.toMatch(/<style|currentColor|class="(?!note|chord|rest|mRest|measure|bar-number)/);
  });
});

describe('the hands on a page', () => {
  const textsOf = (pages: readonly Page[]): string => pages.map((p) => p.svg).join('');
  test('brackets, second fingers and bows are drawn and explained; without them nothing is', () => {
    const marked = textsOf(engraveSheet(withHands(samplePlan('polka')), engraver));
    const bare = textsOf(engraveSheet(samplePlan('polka'), engraver));
    for (const words of ['finger stays down', 'low second finger, H2 high', 'down-bow']) {
      expect(marked).toContain(words);
      expect(bare).not.toContain(words);
    }
    expect(marked).toMatch(/>L2</);
    expect(marked).toMatch(/<polyline/);
  });
  test('each line begins with the direction of its first stroke', () => {
    const { score, hands } = withHands(samplePlan('polka')).versions[0];
    const version = { id: 'full', name: '', score, ...(hands === undefined ? {} : { hands }) };
    const ranges = [0, 4, 8, 12].map((from) => ({ from, to: from + 4, part: null, width: 0 }));
    const bowed = barsOf(withLineBows(version, ranges));
    expect(ranges.map(({ from }) => bowed[from]?.bar.events[0])).toEqual(
      ranges.map(() => expect.objectContaining({ bow: expect.stringMatching(/down|up/) })),
    );
  });
});

describe('the engraver remembers', () => {
  test('nothing is drawn twice, and an edit of one bar draws its line and the measuring alone', () => {
    const plan = samplePlan('dorianJig');
    engraveSheet(plan, engraver);
    const before = engraver.drawn();
    engraveSheet(plan, engraver);
    expect(engraver.drawn()).toBe(before);
    const [version] = plan.versions;
    const [first, ...others] = version.score.parts;
    if (first === undefined) throw new Error('no part');
    const bars = first.bars.map((b, i) =>
      i === 2 ? { ...b, annotations: [{ onset: b.events[0]?.length, place: 'above', text: 'here' }] } : b,
    );
    const score = { ...version.score, parts: [{ ...first, bars }, ...others] } as typeof version.score;
    engraveSheet({ ...plan, versions: [{ ...version, score }] }, engraver);
    expect(engraver.drawn()).toBe(before + 2);
  });
});

test('a few bars are as wide as they are', () => {
  const { versions } = samplePlan('dressedReel');
  const short = engraveSnippet(versions, { from: 2, to: 3 }, engraver);
  const long = engraveSnippet(versions, { from: 2, to: 5 }, engraver);
  expect(long.width).toBeGreaterThan(1.8 * short.width);
  expect(() => engraveSnippet(versions, { from: 30, to: 31 }, engraver)).toThrow(RangeError);
});

/** Pictures to look at, with what to look for. */
const PICTURES: readonly (readonly [string, string, () => readonly Page[]])[] = [
  ['dressed-reel', 'Every sign, endings, pick-ups, chords with sharps and flats', () => sheet('dressedReel')],
  ['dorian-jig', 'A jig with cuts and slurs', () => sheet('dorianJig')],
  ['dotted-hornpipe', 'Three flats, written dots, triplets as pick-ups', () => sheet('dottedHornpipe')],
  ['long-title-slip-jig', 'A title that is too long and holds markup', () => sheet('longTitleSlipJig')],
  ['polka', 'Few notes in a bar', () => sheet('polka')],
  ['written-out-reel', 'Thirty-two printed bars on one page', () => sheet('writtenOutReel')],
  [
    'together',
    'Three versions bar under bar',
    () => sheet('dressedReel', { together: true, paper: 'Letter' }),
  ],
  ['large-print', 'Large print, two pages', () => sheet('dressedReel', { largePrint: true })],
  [
    'hands',
    'Fingers, bows at the starts of lines, brackets where a finger stays down, chords over them',
    () => engraveSheet(withHands(samplePlan('writtenOutReel')), engraver),
  ],
  [
    'chord-grid',
    'The chords alone',
    () => chordGridPages(samplePlan('dressedReel'), 'Guitar: a line about a capo stands here.'),
  ],
  [
    'finger-map',
    'Three flats, low fingers, accidentals beside the key',
    () => fingerMapPages(samplePlan('dottedHornpipe'), fingerMapOf(sampleScore('dottedHornpipe'))),
  ],
  ['phrase-map', 'Thirty-two bars and the order to learn them in', () => phraseMap('writtenOutReel')],
  ['phrase-map-endings', 'A second ending under the first', () => phraseMap('dressedReel')],
];
const sheet = (name: keyof typeof SAMPLES, changes: Partial<SheetPlan> & { together?: boolean } = {}) =>
  engraveSheet(samplePlan(name, changes), engraver);

const phraseMap = (name: keyof typeof SAMPLES): readonly Page[] => {
  const score = sampleScore(name);
  return phraseMapPages(samplePlan(name), phraseMapOf(plainOf(score), score));
};

describe('the gallery', () => {
  test.each(PICTURES)('%s is drawn as it was looked at', (name, _, draw) => {
    draw().forEach((page, i) => {
      const file = `${GALLERY}${name}-${i + 1}.svg`;
      const text = page.svg.replaceAll('><', '>\n<');
      if (updating || !existsSync(file)) {
        if (process.env.CI !== undefined) throw new Error(`${file} is missing`);
        mkdirSync(GALLERY, { recursive: true });
        writeFileSync(file, `${text}\n`);
      }
      expect(`${text}\n` === readFileSync(file, 'utf8'), `${name}-${i + 1}.svg differs; look at it`).toBe(
        true,
      );
    });
  });
  test('its page shows every picture, and no other', () => {
    const shown = [...readFileSync(`${GALLERY}index.html`, 'utf8').matchAll(/src="([^"]*\.svg)"/g)].map(
      (m) => m[1],
    );
    expect(shown.toSorted()).toEqual(
      readdirSync(GALLERY)
        .filter((f) => f.endsWith('.svg'))
        .toSorted(),
    );
    const index = readFileSync(`${GALLERY}index.html`, 'utf8');
    for (const [name, what] of PICTURES) {
      expect(index).toContain(`src="${name}-1.svg"`);
      expect(index).toContain(what);
    }
  });
});
