import { describe, expect, test } from 'vitest';
import { TEMPO_STEPS } from '../music/index.ts';
import { readAbc } from '../notation/index.ts';
import {
  barCounts,
  clockTime,
  DEFAULT_SETTINGS,
  dateWords,
  descriptionOf,
  type Lesson,
  type LessonSettings,
  lessonOf,
  listOfBars,
  noteValueName,
  summaryOf,
  tempoOf,
  tempoWords,
  timelineOfTrack,
  trackPlans,
  versionRemarks,
} from './index.ts';

const REEL = `X:1
T:The Kettle Lid
R:reel
M:4/4
L:1/8
K:G
|:D2|~G3B d2Bd|efge dBAB|G2{a}GB dBAB|(3BBB AF G2:|
`;

const lessonFrom = (abc: string, settings: Partial<LessonSettings> = {}): Lesson => {
  const [tune] = readAbc(abc).tunes;
  if (tune === undefined) throw new Error('no tune in the test');
  return lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31', ...settings });
};

describe('tracks', () => {
  test('ten by default, in the order of use', () => {
    expect(trackPlans(lessonFrom(REEL), 'default').map((t) => t.title)).toEqual([
      'The bones, to learn, bare',
      'The bones, steady, with backing',
      'All the notes, to learn, bare',
      'All the notes, steady, with backing',
      'Full version, to learn, bare',
      'Full version, steady, with backing',
      'Full version, up to speed, with backing',
      'Backing alone, to learn',
      'Backing alone, steady',
      'Backing alone, up to speed',
    ]);
  });
  test('twenty-one when all are wanted, each once', () => {
    const all = trackPlans(lessonFrom(REEL), 'all');
    expect(all).toHaveLength(21);
    expect(new Set(all.map((t) => t.slug)).size).toBe(21);
  });
  test("the bones are learnt a little slower, and the teacher's tempo wins", () => {
    const lesson = lessonFrom(REEL, { tempos: { steady: 66 } });
    expect(tempoOf(lesson, 'learn', 'bones')).toBe(42);
    expect(tempoOf(lesson, 'learn', 'full')).toBe(48);
    expect(tempoOf(lesson, 'steady', 'full')).toBe(66);
    expect(tempoWords(lesson, 66)).toBe('minim = 66');
  });
  test.each([
    // The reel's own tempi: 42 for the bones to learn, 48, 70 and 106 minims a minute.
    ['1/2=100', [40, 45, 66, 100]],
    ['1/4=106', [21, 24, 35, 53]],
    ['1/2=120', [42, 48, 70, 120]],
    ['"Lively" 1/2=100', [40, 45, 66, 100]],
    ['120', [42, 48, 70, 106]],
    ['"Lively"', [42, 48, 70, 106]],
    ['1/2=3000', [42, 48, 70, 106]],
  ])('(regression) Q:%s in the tune is the tempo up to speed', (written, tempos) => {
    const lesson = lessonFrom(REEL.replace('K:', `Q:${written}\nK:`));
    const [bones, ...others] = tempos;
    expect(tempoOf(lesson, 'learn', 'bones')).toBe(bones);
    expect(TEMPO_STEPS.map((step) => tempoOf(lesson, step, 'full'))).toEqual(others);
    expect(
      tempoOf(
        { ...lesson, settings: { ...lesson.settings, tempos: { upToSpeed: 90 } } },
        'upToSpeed',
        'full',
      ),
    ).toBe(90);
  });
  test('a track lasts its bars and its count-in', () => {
    const lesson = lessonFrom(REEL);
    const track = trackPlans(lesson, 'default').find((t) => t.step === 'upToSpeed' && t.version === 'full');
    const length = track === undefined ? 0 : timelineOfTrack(lesson, track).length;
    // 8 bars of 2 minims, twice, and 2 bars of count-in, at 106 minims a minute; then the last note rings on.
    const counted = ((8 * 2 * 2 + 2 * 2) * 60) / 106;
    expect(length).toBeGreaterThanOrEqual(counted);
    expect(length).toBeLessThan(counted + 1.2);
    expect(clockTime(counted)).toBe('0:20');
  });
  test('backing alone has no fiddle in it, and a bare track nothing else', () => {
    const lesson = lessonFrom(REEL);
    const voices = (slug: string): readonly string[] => {
      const plan = trackPlans(lesson, 'all').find((t) => t.slug === slug);
      const notes = plan === undefined ? [] : timelineOfTrack(lesson, plan).notes;
      return [...new Set(notes.map((n) => n.voice))].sort();
    };
    expect(voices('backing-alone-steady')).not.toContain('fiddle');
    expect(voices('backing-alone-steady')).toContain('guitar');
    expect(voices('bones-steady-bare')).toEqual(['click', 'fiddle']);
  });
});

describe('words', () => {
  test.each([
    [{ num: 3, den: 8 }, 'dotted crotchet', 'dotted quarter note'],
    [{ num: 1, den: 2 }, 'minim', 'half note'],
    [{ num: 3, den: 2 }, 'dotted semibreve', 'dotted whole note'],
    [{ num: 1, den: 5 }, '1/5 of a whole note', '1/5 of a whole note'],
  ])('%o is a %s, a %s', (length, british, us) => {
    expect(noteValueName(length, 'british')).toBe(british);
    expect(noteValueName(length, 'us')).toBe(us);
  });
  test.each([
    ['2026-11-25', '25 November 2026', 'November 25, 2026'],
    ['2026-01-01', '1 January 2026', 'January 1, 2026'],
    ['some day', 'some day', 'some day'],
  ])('%s is said %s', (date, british, us) => {
    expect(dateWords(date, 'british')).toBe(british);
    expect(dateWords(date, 'us')).toBe(us);
  });
  test('bars are listed as people say it', () => {
    expect(listOfBars(['4'], 'british')).toBe('bar 4');
    expect(listOfBars(['1', '5', '9'], 'us')).toBe('measures 1, 5 and 9');
  });
  test('the summary counts bars as printed and as played', () => {
    expect(barCounts(lessonFrom(REEL))).toEqual({ printed: 4, played: 8 });
    expect(summaryOf(lessonFrom(REEL))).toBe('Reel in G major, 4 bars, 8 as played.');
  });
  test('the description has the title, credit, every track and the two quiet lines', () => {
    const text = descriptionOf(lessonFrom(REEL, { teacher: 'A. Teacher', story: 'Hello.' }), 'default');
    expect(text).toMatch(/^The Kettle Lid\nReel in G major/);
    expect(text).toContain('Tune: Trad.');
    expect(text).toContain('Taught by A. Teacher');
    expect(text.match(/^ {2}\d\d {2}/gm)).toHaveLength(10);
    expect(text).toContain('stop at pain');
    expect(text).toContain('licences where you live');
  });
});

describe('versions that hardly differ', () => {
  const SIMPLE = 'X:1\nT:Steps\nR:waltz\nM:3/4\nL:1/8\nK:G\nG2A2B2|d4B2|A2G2E2|D6|]\n';
  const RUN = 'X:1\nT:Run\nR:reel\nM:4/4\nL:1/8\nK:D\nD2FA dAFA|Bcdf edBA|D2FA dAFA|gfec d4|]\n';
  test('bones that are hardly simpler are said to be so, with the remedy', () => {
    expect(versionRemarks(lessonFrom(SIMPLE))[0]).toMatch(
      /^The tune is simple already: the bones keep every note\. For fewer/,
    );
    expect(versionRemarks(lessonFrom(SIMPLE, { density: 'barest' }))[0]).toMatch(/keep every note\.$/);
  });
  test('a full version without ornaments is said to be all the notes, and promises none', () => {
    const lesson = lessonFrom(RUN);
    expect(versionRemarks(lesson)).toEqual([expect.stringMatching(/^The tune has no ornaments yet/)]);
    expect(descriptionOf(lesson, 'default')).toContain(
      'Full version: as it is written, without ornaments so far',
    );
  });
  test('a running tune with ornaments has three versions of its own', () => {
    const lesson = lessonFrom(RUN.replace('D2FA', '~D2FA'));
    expect(versionRemarks(lesson)).toEqual([]);
    expect(descriptionOf(lesson, 'default')).toContain('Full version: with all the ornaments');
  });
});
