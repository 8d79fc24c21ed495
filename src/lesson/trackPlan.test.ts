import { describe, expect, test } from 'vitest';
import { readAbc } from '../notation/index.ts';
import { soundingLength } from '../perform/index.ts';
import {
  DEFAULT_SETTINGS,
  type Lesson,
  type LessonSettings,
  lessonOf,
  timelineOfTrack,
  trackLength,
  trackPlans,
  trackProblems,
} from './index.ts';
import { climbTempos, passageOf } from './trackWish.ts';

const REEL = `X:1
T:Test
R:reel
M:4/4
L:1/8
K:G
|:D2|G2BG d2BG|A2cA e2cA|G2BG d2BG|FAdA G2:|
|:Bc|d2gd b2gd|e2ge c2ec|d2gd b2gd|FAdA G2:|
`;
const lessonWith = (settings: Partial<LessonSettings>): Lesson => {
  const [tune] = readAbc(REEL).tunes;
  if (tune === undefined) throw new Error('no tune');
  return lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31', ...settings });
};
/** The one track that is asked for beside the usual ten. */
const added = (wish: LessonSettings['tracks'][number], settings: Partial<LessonSettings> = {}) => {
  const lesson = lessonWith({ ...settings, tracks: [wish] });
  const plan = trackPlans(lesson, 'default')[10];
  if (plan === undefined) throw new Error('no track was added');
  return { lesson, plan, timeline: timelineOfTrack(lesson, plan) };
};

// Common practice: 2–3 % every second time through, one slow pass to finish.
describe('a climb', () => {
  test.each([
    [60, 63, 9, [60, 60, 61.5, 61.5, 63, 63, 60]],
    [60, 90, 7, [60, 60, 61.5, 61.5, 63, 63, 60]],
    [60, 60, 9, [60, 60, 60]],
    [60, 50, 9, [60, 60, 60]],
  ])('from %f to %f in at most %i times', (from, to, most, tempos) => {
    expect(climbTempos(from, to, most)).toEqual(tempos);
  });
  test('each step is 2 to 3 % above the one before', () => {
    const tempos = climbTempos(48, 110, 99).slice(0, -3);
    for (let i = 2; i < tempos.length; i += 2) {
      const step = (tempos[i] ?? 0) / (tempos[i - 2] ?? 1);
      expect(step).toBeGreaterThan(1.02);
      expect(step).toBeLessThan(1.03);
    }
  });
  test('is a track: each time through faster than the last but one, the last as slow as the first', () => {
    const { plan, timeline } = added({ climbTo: 52, tempo: 48, bars: '1-4' });
    expect(plan.title).toBe('Full version, bars 1–4, gradually faster, 48 to 52, with backing');
    const starts = timeline.bars.filter((b) => b.number === '1').map((b) => b.start);
    const lengths = starts.slice(1).map((s, i) => s - (starts[i] ?? 0));
    expect(starts).toHaveLength(plan.tempos.length);
    expect(lengths[0]).toBeCloseTo(lengths[1] ?? 0, 2);
    expect(lengths[2]).toBeLessThan(lengths[0] ?? 0);
    expect(timeline.tempo.at(-1)?.beatsPerMinute).toBe(48);
  });
});

describe('which bars', () => {
  const { written } = lessonWith({});
  test.each([
    ['2-4', 'A', 2, 'A', 4],
    ['3', 'A', 3, 'A', 3],
    ['B1-B2', 'B', 1, 'B', 2],
    ['b1 – 2', 'B', 1, 'B', 2],
    ['4-5', 'A', 4, 'B', 1],
  ])('%s', (text, fromPart, fromBar, toPart, toBar) => {
    expect(passageOf(written, text)).toEqual({
      from: { part: fromPart, bar: fromBar },
      to: { part: toPart, bar: toBar },
    });
  });
  test.each(['0-2', '7-40', '4-2', 'C1', 'five', ''])('"%s" is none', (text) => {
    expect(passageOf(written, text)).toBeNull();
  });
});

describe('tracks on request', () => {
  test('come after the usual ones, named after what is in them', () => {
    const titles = (wish: LessonSettings['tracks'][number]) => added(wish).plan.title;
    expect(titles({ version: 'plain', tempo: 62 })).toBe('All the notes, at 62, with backing');
    expect(titles({ version: 'plain', echo: 2, backing: false })).toBe(
      'All the notes, echo by 2 bars, to learn, bare',
    );
    expect(titles({ version: 'none', tempo: 'upToSpeed' })).toBe('Backing alone, up to speed');
    expect(titles({ version: 'bones', bars: 'B1-B4', click: true })).toBe(
      'The bones, bars B1–B4, steady, with backing, with click',
    );
    expect(added({ bars: '1-2' }, { words: 'us' }).plan.title).toContain('measures 1–2');
  });
  test('a tempo of one’s own is kept to', () => {
    const { timeline, plan } = added({ tempo: 62 });
    expect(timeline.tempo[0]?.beatsPerMinute).toBe(62);
    expect(plan.step).toBeNull();
  });
  test('a click clicks on every beat, on one track or on all', () => {
    const clicks = (t: ReturnType<typeof added>) =>
      t.timeline.notes.filter((n) => n.voice === 'click').length -
      t.timeline.beats.filter((b) => b.countIn).length;
    expect(clicks(added({}))).toBe(0);
    expect(clicks(added({ click: true }))).toBe(clicks(added({}, { click: true })));
    expect(clicks(added({ click: true }))).toBeGreaterThan(60);
  });
  test('an echo has the fiddle half of the time', () => {
    const { timeline } = added({ version: 'plain', echo: 2 });
    const answers = timeline.bars.filter((b) => b.answer === true);
    // Pick-ups apart: the learner's lies in the fiddle's last notes where these leave no room for it.
    const numbered = (bars: typeof timeline.bars) => bars.filter((b) => b.number !== undefined).length;
    expect(numbered(answers) * 2).toBe(numbered(timeline.bars));
    for (const { start, end } of answers)
      expect(timeline.notes.some((n) => n.voice === 'fiddle' && n.start >= start && n.start < end)).toBe(
        false,
      );
  });
  test('the chosen players play', () => {
    const band = { players: ['piano', 'drum'], pattern: 'other' } as const;
    const voices = new Set(added({}, { band }).timeline.notes.map((n) => n.voice));
    expect([...voices].sort()).toEqual(['click', 'drum', 'fiddle', 'piano']);
  });
  test('ringing out is part of a track', () => {
    const { timeline } = added({});
    expect(soundingLength(timeline) - timeline.length).toBeCloseTo(1.6, 9);
  });
  test('the length of a track is that of its timeline, however it is played', () => {
    const tracks = [{ echo: 2 }, { bars: '1-2' }, { climbTo: 70 }, { version: 'none', times: 3 }] as const;
    const lesson = lessonWith({ tracks, click: true });
    for (const plan of trackPlans(lesson, 'all'))
      expect(trackLength(lesson, plan)).toBe(soundingLength(timelineOfTrack(lesson, plan)));
  });
});

describe('recordings of one’s own', () => {
  const recordings = [
    { file: '/x/slow.wav', track: 3 },
    { file: '/x/talk.wav', title: 'Talking it through' },
  ];
  test('take a track’s place, or come after all others', () => {
    const plans = trackPlans(lessonWith({ recordings, tracks: [{ tempo: 60 }] }), 'default');
    expect(plans[2]).toMatchObject({ own: '/x/slow.wav', title: 'All the notes, to learn, bare' });
    expect(plans[3]?.own).toBeNull();
    expect(plans.at(-1)).toMatchObject({ number: 12, own: '/x/talk.wav', title: 'Talking it through' });
  });
});

describe('what cannot be made is said', () => {
  test.each<readonly [string, Partial<LessonSettings>, RegExp]>([
    ['bars that are not there', { tracks: [{ bars: '7-40' }] }, /no bars "7-40"/],
    [
      'a version that is not there',
      { tracks: [{ version: 'bonesFuller' }] },
      /no version "bonesFuller"; it has bones, plain, full/,
    ],
    [
      'a track that is not there',
      { recordings: [{ file: 'a.wav', track: 30 }] },
      /no track 30 for "a\.wav".*there are 10/,
    ],
  ])('%s', (_, settings, message) => {
    const problems = trackProblems(lessonWith(settings), 'default');
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatch(message);
  });
  test('nothing is wrong with the usual ones', () => {
    expect(trackProblems(lessonWith({ tracks: [{ bars: '1-4' }] }), 'all')).toEqual([]);
  });
});
