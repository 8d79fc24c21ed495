import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readAbc, readAbcBar, writeAbcBar } from '../../notation/index.ts';
import { scoreArbitrary } from '../../notation/testing/scoreArbitrary.ts';
import { barsOf, type Event, fingerprintOf, type Score } from '../../score/index.ts';
import {
  type Attached,
  attachedOf,
  DEFAULT_SETTINGS,
  keptRemarks,
  type Lesson,
  lessonOf,
  withKeptBar,
  withoutKeptBar,
} from '../index.ts';
import { eventsOf, storedEvents } from './keptEvents.ts';

const HEAD = 'X:1\nT:The Kettle Lid\nR:reel\nM:4/4\nL:1/8\nK:D\n';
const FIRST = 'D2FA dAFA|Bcdf e2AF|D2FA dAFA|gfec d4';

const scoreFrom = (music: string): Score => {
  const [tune] = readAbc(`${HEAD}${music}|\n`).tunes;
  if (tune === undefined) throw new Error('no tune in the test');
  return tune.score;
};

const lessonWith = (music: string, attached: Partial<Attached> = {}): Lesson =>
  lessonOf(scoreFrom(music), { ...DEFAULT_SETTINGS, date: '2026-01-31', ...attached });

const typed = (text: string): readonly Event[] => {
  const { key, metre, unit } = scoreFrom(FIRST);
  const read = readAbcBar(text, { key, metre, unit });
  if (read.kind !== 'bar') throw new Error(JSON.stringify(read.diagnostics));
  return read.events;
};

const keep = (lesson: Lesson, bar: number, text: string, everywhere = false): Lesson => {
  const one = { version: 'bones', part: 'A', bar, events: typed(text), everywhere };
  return lessonOf(lesson.written, { ...lesson.settings, ...withKeptBar(lesson, one) });
};

const bonesOf = (lesson: Lesson): readonly string[] =>
  barsOf(lesson.versions.bones).map(({ bar }) => writeAbcBar(bar, lesson.written.unit));
const wordsOf = (lesson: Lesson): readonly string[] => keptRemarks(lesson).map(({ words }) => words);

/** The same lesson after its tune was edited elsewhere: only what the lesson file holds is known. */
const editedTo = (lesson: Lesson, music: string): Lesson =>
  lessonWith(music, JSON.parse(JSON.stringify(attachedOf(lesson))) as Attached);

describe('a kept bar', () => {
  const kept = keep(lessonWith(FIRST), 0, 'D4 d4');

  test('stands in the bones, and bars equal to it do not', () => {
    expect(bonesOf(kept)[0]).toBe('D4 d4');
    expect(bonesOf(kept).slice(1)).toEqual(bonesOf(lessonWith(FIRST)).slice(1));
    expect(wordsOf(kept)).toEqual(['Bar 1 is as you kept it.']);
  });
  test('holds for equal bars where that is asked, but not for one that is kept itself', () => {
    const both = keep(kept, 0, 'D4 d4', true);
    expect(bonesOf(both).filter((bar) => bar === 'D4 d4')).toHaveLength(2);
    expect(wordsOf(both)).toEqual(['Bar 1 and all bars equal to it are as you kept them.']);
    const own = keep(both, 2, 'D2 F2 d2 F2');
    expect([bonesOf(own)[0], bonesOf(own)[2]]).toEqual(['D4 d4', 'D2 F2 d2 F2']);
  });
  test('survives another density', () => {
    for (const density of ['barest', 'fullest'] as const) {
      const made = lessonOf(kept.written, { ...kept.settings, density });
      expect(bonesOf(made)[0]).toBe('D4 d4');
    }
  });
  test('takes the place of the one that was kept there before', () => {
    const again = keep(kept, 0, 'D2 F2 d2 A2');
    expect(again.settings.keptBars).toHaveLength(1);
    expect(bonesOf(again)[0]).toBe('D2 F2 d2 A2');
  });
  test('is gone when it is forgotten', () => {
    const free = lessonOf(kept.written, { ...kept.settings, ...withoutKeptBar(kept, 0) });
    expect(bonesOf(free)).toEqual(bonesOf(lessonWith(FIRST)));
  });
});

describe('when the tune has changed meanwhile', () => {
  const kept = keep(lessonWith(FIRST), 1, 'B2 d2 e4');

  test('it follows its bar', () => {
    const edited = editedTo(kept, 'ABcd efga|D2FA dAFA|Bcdf e2AF|D2FA dAFA|gfec d4');
    expect(bonesOf(edited)[2]).toBe('B2 d2 e4');
    expect(wordsOf(edited)).toEqual(['Bar 3 is as you kept it.']);
  });
  test('a changed bar is told until it is kept anew, also after the lesson was saved', () => {
    const edited = editedTo(kept, 'D2FA dAFA|Bcdf edAF|D2FA dAFA|gfec d4');
    expect(bonesOf(edited)[1]).toBe('B2 d2 e4');
    const told = ['Bar 2 is as you kept it. The bar has changed in the tune since.'];
    expect(wordsOf(edited)).toEqual(told);
    const saved = lessonOf(edited.written, { ...edited.settings, ...attachedOf(edited) });
    expect(wordsOf(saved)).toEqual(told);
    expect(keptRemarks(saved)).toMatchObject([{ inForce: true, asks: true }]);
    expect(wordsOf(keep(saved, 1, 'B2 d2 e4'))).toEqual(['Bar 2 is as you kept it.']);
    expect(wordsOf(editedTo(saved, FIRST))).toEqual(['Bar 2 is as you kept it.']);
  });
  test('a clash on a beat is told; the bar stays', () => {
    const edited = editedTo(kept, 'D2FA dAFA|Bc^df e2AF|D2FA dAFA|gfec d4');
    expect(bonesOf(edited)[1]).toBe('B2 d2 e4');
    expect(wordsOf(edited)[0]).toContain('It clashes with all the notes on beat 2 (D♯ against D).');
  });
  test('a bar of another length waits, and the derived one is used', () => {
    const music = 'D2FA dAFA|[M:3/4]Bcdf e2|[M:4/4]D2FA dAFA|gfec d4';
    const edited = editedTo(kept, music);
    expect(bonesOf(edited)).toEqual(bonesOf(lessonWith(music)));
    expect(keptRemarks(edited)).toEqual([
      {
        inForce: false,
        asks: true,
        words:
          "Bar 2: the kept bar lasts 4 crotchets, the tune's 3 crotchets. The bar has changed in the tune since. It stays in the lesson; meanwhile the derived bar is used.",
      },
    ]);
    expect(edited.settings.keptBars).toEqual(kept.settings.keptBars);
  });
  test('without its bar it waits, is told, and comes back with it', () => {
    const without = editedTo(kept, 'D2FA dAFA|D2FA dAFA|gfec d4');
    expect(keptRemarks(without)).toMatchObject([{ inForce: false, asks: true }]);
    expect(wordsOf(without)[0]).toContain('no longer in the tune (B4 C♯5 D5 F♯5 E5 A4 F♯4)');
    expect(bonesOf(editedTo(without, FIRST))[1]).toBe('B2 d2 e4');
  });
  test('two for one bar: the first counts, the second is told', () => {
    const [one] = kept.settings.keptBars;
    const twice = lessonWith(FIRST, { keptBars: one === undefined ? [] : [one, one] });
    expect(wordsOf(twice)).toEqual([
      'Bar 2 is as you kept it.',
      'Bar 2 was kept twice; the first one counts.',
    ]);
  });
  test('a version that is not there is told', () => {
    const keptBars = kept.settings.keptBars.map((one) => ({ ...one, version: 'bonesFuller' }));
    const lesson = lessonWith(FIRST, { ...kept.settings, keptBars });
    expect(keptRemarks(lesson)).toMatchObject([{ inForce: false, asks: true }]);
    expect(wordsOf(lesson)[0]).toContain('"bonesFuller"');
  });
});

test('what is stored is what was kept: pitches, lengths, ties, tuplets, slurs, bows, fingers', () => {
  const read = typed('(3A^cd (ue2!2!f) [Ad]2-');
  const stored = storedEvents(read);
  const back = eventsOf(JSON.parse(JSON.stringify(stored)));
  expect(storedEvents(back)).toEqual(stored);
  expect(back).toMatchObject([
    {
      pitches: [{ step: 'A', octave: 4 }],
      length: { num: 1, den: 12 },
      tuplet: { actual: 3, normal: 2, index: 0, count: 3 },
    },
    { pitches: [{ step: 'C', alter: 1 }] },
    {},
    { bow: 'up', slurs: { opens: 1, closes: 0 } },
    { fingers: [2], slurs: { opens: 0, closes: 1 } },
    { pitches: [{ step: 'D' }, { step: 'A' }], tiedToNext: true },
  ]);
});

test('any bar is stored and comes back as it sounds', () => {
  let bars = 0;
  fc.assert(
    fc.property(scoreArbitrary, (score) => {
      for (const { bar } of barsOf(score)) {
        const events = eventsOf(JSON.parse(JSON.stringify(storedEvents(bar.events))));
        expect(fingerprintOf({ ...bar, events })).toBe(fingerprintOf(bar));
        bars += 1;
      }
    }),
    { seed: 20261125, numRuns: 60 },
  );
  expect(bars).toBeGreaterThan(100);
});
