import { describe, expect, test } from 'vitest';
import { midiOf } from '../../music/index.ts';
import { readAbc, readAbcBar } from '../../notation/index.ts';
import { timelineOf } from '../../perform/index.ts';
import type { Event, Score, WayPlayed } from '../../score/index.ts';
import {
  attachedOf,
  DEFAULT_SETTINGS,
  type Lesson,
  type LessonSettings,
  lessonOf,
  versionOf,
  wayRemarks,
  withWay,
  withWayChanged,
} from '../index.ts';
import { transposedSettings } from '../transpose/transposedSettings.ts';

const HEAD = 'X:1\nT:The Coal Hatch\nR:reel\nM:4/4\nL:1/8\nK:D\n';
const TUNE = '|:D2FA dAFA|Bcdf e2AF|D2FA dAFA|gfec d4:|';

const scoreFrom = (music: string): Score => {
  const [tune] = readAbc(`${HEAD}${music}\n`).tunes;
  if (tune === undefined) throw new Error('no tune');
  return tune.score;
};

const lessonWith = (music: string, settings: Partial<LessonSettings> = {}): Lesson =>
  lessonOf(scoreFrom(music), {
    ...DEFAULT_SETTINGS,
    date: '2026-01-31',
    ...settings,
  });

const typed = (lesson: Lesson, text: string): readonly Event[] => {
  const { key, metre, unit } = lesson.written;
  const read = readAbcBar(text, { key, metre, unit });
  if (read.kind !== 'bar') throw new Error(JSON.stringify(read.diagnostics));
  return read.events;
};

const withOne = (lesson: Lesson, bar: number, text: string, played: WayPlayed = 'secondTimes'): Lesson => {
  const one = { version: 'full', part: 'A', bar, events: typed(lesson, text), played, printed: true };
  return lessonOf(lesson.written, { ...lesson.settings, ...withWay(lesson, one) });
};

/** The full version as it is played, at a tempo at which ornaments are not opened out. */
const timelineFor = (lesson: Lesson, times: number) =>
  timelineOf(versionOf(lesson, 'full').score, {
    beatsPerMinute: 100,
    melody: true,
    backing: null,
    times,
    countIn: false,
    dance: lesson.dance,
  });

/** The fiddle's notes of a bar, each time that it is played, as MIDI numbers. */
const playedIn = (lesson: Lesson, bar: number, times = 1): readonly (readonly number[])[] => {
  const timeline = timelineFor(lesson, times);
  return timeline.bars
    .filter((b) => b.bar === bar)
    .map(({ start, end }) =>
      timeline.notes
        .filter((n) => n.voice === 'fiddle' && n.start >= start - 1e-6 && n.start < end - 1e-6)
        .map((n) => Math.round(n.midi)),
    );
};

const midis = (lesson: Lesson, text: string): readonly number[] =>
  typed(lesson, text).flatMap((e) => (e.kind === 'note' ? [midiOf(e.pitches[0])] : []));

describe('another way to play a bar', () => {
  const plain = lessonWith(TUNE);
  const lesson = withOne(plain, 0, 'd2AF DFAF');
  const [own, other] = [midis(plain, 'D2FA dAFA'), midis(plain, 'd2AF DFAF')];

  test('is played every second time that the bar comes, and nothing else changes', () => {
    expect(playedIn(plain, 0, 2)).toEqual([own, own, own, own]);
    expect(playedIn(lesson, 0, 2)).toEqual([own, other, own, other]);
    expect(playedIn(lesson, 2, 2)).toEqual(playedIn(plain, 2, 2));
  });

  test('is played every time, or never, as asked; of two for one time the newer counts', () => {
    const every = lessonOf(lesson.written, {
      ...lesson.settings,
      ...withWayChanged(lesson, 0, { played: 'everyTime' }),
    });
    expect(playedIn(every, 0)).toEqual([other, other]);
    const never = lessonOf(lesson.written, {
      ...lesson.settings,
      ...withWayChanged(lesson, 0, { played: 'never' }),
    });
    expect(playedIn(never, 0)).toEqual([own, own]);
    expect(playedIn(withOne(every, 0, 'A2FD A2FD'), 0)).toEqual([other, midis(plain, 'A2FD A2FD')]);
    const newer = withOne(lesson, 0, 'A2FD A2FD');
    expect(newer.ways.map(({ way }) => way.played)).toEqual(['never', 'secondTimes']);
    expect(playedIn(newer, 0)).toEqual([own, midis(plain, 'A2FD A2FD')]);
    const back = lessonOf(newer.written, {
      ...newer.settings,
      ...withWayChanged(newer, 0, { played: 'secondTimes' }),
    });
    expect(playedIn(back, 0)).toEqual([own, other]);
  });

  test('changes no version: same bars, same notes on paper', () => {
    for (const { id, score } of lesson.ladder) {
      const before = versionOf(plain, id).score;
      const bare = score.parts.map((p) => p.bars.map(({ ways: _ways, ...bar }) => bar));
      expect(bare).toEqual(before.parts.map((p) => p.bars));
    }
  });

  test('keeps its ornaments and marks', () => {
    const made = withOne(plain, 0, 'd2{B}AF ~D2.FA');
    expect(made.ladder.at(-1)?.score.parts[0]?.bars[0]?.ways?.[0]?.events).toMatchObject([
      {},
      { graces: { pitches: [{ step: 'B' }] }, beamedToNext: true },
      {},
      { signs: ['roll'] },
      { marks: ['staccato'] },
      {},
    ]);
  });

  test('has its own trebles, played as such, and not those of the bar it stands for', () => {
    const attacks = (lesson: Lesson): readonly number[] => {
      const { bars, notes } = timelineFor(lesson, 1);
      return bars
        .filter((b) => b.bar === 0)
        .map(
          ({ start, end }) =>
            notes.filter((n) => n.attack === 'treble' && n.start >= start - 1e-6 && n.start < end - 1e-6)
              .length,
        );
    };
    expect(attacks(withOne(plain, 0, '(3ddd AF DFAF'))).toEqual([0, 2]);
    const trebled = lessonWith(TUNE.replace('|:D2FA', '|:(3DDD FA'));
    expect(attacks(trebled)).toEqual([2, 2]);
    expect(attacks(withOne(trebled, 0, 'd2AF DFAF'))).toEqual([2, 0]);
  });

  test('goes with its bar when the tune is changed elsewhere, and waits where it does not fit', () => {
    const stored = JSON.parse(JSON.stringify(attachedOf(lesson))) as Partial<LessonSettings>;
    const moved = lessonWith('|:ABcd efga|D2FA dAFA|Bcdf e2AF|D2FA dAFA|gfec d4:|', stored);
    expect(moved.ways).toMatchObject([{ found: { kind: 'same', anchor: { bar: 1 } } }]);
    expect(playedIn(moved, 1)).toEqual([own, other]);
    expect(wayRemarks(moved)).toEqual([]);
    const short = lessonWith('|:[M:3/4]D2FA dA|[M:4/4]Bcdf e2AF|D2FA dAFA|gfec d4:|', stored);
    expect(wayRemarks(short)).toEqual([
      'Bar 1, another way: This way lasts 4 crotchets, the bar 3 crotchets: it waits until they are equal. The bar has changed in the tune since.',
    ]);
    expect(attachedOf(short).ways).toHaveLength(1);
    const none = lessonWith(TUNE, { ...stored, versions: [{ kind: 'bones' }, { kind: 'plain' }] });
    expect(wayRemarks(none)[0]).toContain('a version "full" that this lesson does not have');
  });

  test('is moved with the lesson into another key', () => {
    const whole = withOne(plain, 0, 'd2{B}AF DFAF');
    const moved = transposedSettings(whole.settings, { steps: 1, semitones: 2 });
    expect(moved.ways[0]?.events.slice(0, 2)).toMatchObject([
      { pitches: ['E5'] },
      { pitches: ['B4'], graces: ['C#5'] },
    ]);
  });

  test('is taken away', () => {
    const gone = lessonOf(lesson.written, { ...lesson.settings, ...withWayChanged(lesson, 0, null) });
    expect(gone.ways).toEqual([]);
    expect(playedIn(gone, 0)).toEqual([own, own]);
  });
});
