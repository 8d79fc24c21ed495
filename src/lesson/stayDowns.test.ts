import { describe, expect, test } from 'vitest';
import { wholeNotes } from '../core/index.ts';
import { readAbc } from '../notation/index.ts';
import { addressKey } from '../score/index.ts';
import { attachedOf, type Lesson, lessonOf, markedVersion, practiceDataOf, stayDownChoice } from './index.ts';
import { withStayDown } from './keeping.ts';
import { DEFAULT_SETTINGS, type LessonSettings } from './settings.ts';
import { stayDownsIn } from './stayDowns.ts';
import { transposedSettings } from './transpose/transposedSettings.ts';

/** The first finger is laid over D and A in the first bar, and again in the fifth. */
const BARS = [
  'E2B2 E2B2',
  'd2fd A2FA',
  'e2ce d4',
  'g2bg e2ce',
  'E2B2 E2B2',
  'd2fd A2FA',
  'e2ce d4',
  'e2ce d4',
];

const lessonWith = (bars: readonly string[], settings: Partial<LessonSettings> = {}): Lesson => {
  const [tune] = readAbc(`X:1\nT:The Kettle Lid\nR:reel\nM:4/4\nL:1/8\nK:D\n${bars.join('|')}|]\n`).tunes;
  if (tune === undefined) throw new Error('no tune in the test');
  return lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31', ...settings });
};

/** "0 1DA": bar, finger and strings of each that a version's sheet shows. */
const shownIn = (lesson: Lesson, id: string): readonly string[] => {
  const version = lesson.ladder.find((v) => v.id === id);
  if (version === undefined) throw new Error(`no version ${id}`);
  return markedVersion(lesson, version).stayDowns.map(
    ({ from, finger, strings }) => `${from.bar} ${finger}${strings.join('')}`,
  );
};

/** The lesson with a finger of a bar wanted on the version's sheet, or not. */
const saying = (lesson: Lesson, id: string, bar: number, shown: boolean): Lesson => {
  const version = lesson.ladder.find((v) => v.id === id);
  const stay = version && stayDownsIn(lesson, version).find(({ from }) => from.bar === bar);
  if (stay === undefined) throw new Error(`nothing stays down in bar ${bar}`);
  const attached = withStayDown(lesson, stayDownChoice(lesson, id, stay, shown));
  return lessonOf(lesson.written, { ...lesson.settings, ...attached });
};

describe('what a teacher says of a finger that stays down', () => {
  const first = lessonWith(BARS);
  const refused = saying(first, 'bones', 0, false);

  test('is told from what the program would show', () => {
    expect(shownIn(first, 'bones')).toContain('0 1DA');
    expect(shownIn(refused, 'bones')).not.toContain('0 1DA');
  });
  test('holds for the figure in its part: it does not come up where it is next', () => {
    expect(shownIn(refused, 'bones')).not.toContain('4 1DA');
  });
  test('can ask for the next place instead', () => {
    expect(shownIn(saying(refused, 'bones', 4, true), 'bones')).toContain('4 1DA');
  });
  test('puts a finger on a sheet that says nothing of fingers by itself', () => {
    expect(shownIn(first, 'plain')).toEqual([]);
    expect(shownIn(saying(first, 'plain', 0, true), 'plain')).toEqual(['0 1DA']);
  });
  test('is taken back by the opposite, and kept once', () => {
    const back = saying(refused, 'bones', 0, true);
    expect(back.settings.stayDownChoices).toHaveLength(1);
    expect(shownIn(back, 'bones')).toContain('0 1DA');
  });
  test('holds on the practice page too', () => {
    const stays = (lesson: Lesson): readonly string[] =>
      practiceDataOf(lesson)
        .versions.filter(({ id }) => id === 'bones')
        .flatMap((version) => version.stays.filter(({ across }) => across).map(({ from }) => from));
    const down = addressKey({ part: 'A', bar: 0, onset: wholeNotes(0, 1) });
    expect(stays(first)).toContain(down);
    expect(stays(refused)).not.toContain(down);
  });
  test('moves with its bar, waits while that is changed, and comes back', () => {
    const saved = { ...refused.settings, ...attachedOf(refused) };
    const later = lessonWith(['fdec d2A2', ...BARS], saved);
    expect(shownIn(later, 'bones')).not.toContain('1 1DA');
    expect(attachedOf(later).stayDownChoices[0]?.anchor.bar).toBe(1);
    const changed = lessonWith(BARS.with(0, 'E2B2 E2c2'), saved);
    const back = lessonWith(BARS, { ...changed.settings, ...attachedOf(changed) });
    expect(shownIn(back, 'bones')).not.toContain('0 1DA');
  });
  test('does not go into another key, where the hand lies otherwise', () => {
    const moved = transposedSettings(refused.settings, { steps: 3, semitones: 5 });
    expect(moved.stayDownChoices).toEqual([]);
  });
});
