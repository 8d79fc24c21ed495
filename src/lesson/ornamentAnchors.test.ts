import { describe, expect, test } from 'vitest';
import { readAbc } from '../notation/index.ts';
import { notesOf } from '../score/index.ts';
import { anchorAt } from './anchors/index.ts';
import { attachedOf, DEFAULT_SETTINGS, type Lesson, lessonOf } from './index.ts';

const lessonWith = (music: string): Lesson => {
  const [tune] = readAbc(`X:1\nT:The Kettle Lid\nR:reel\nM:4/4\nL:1/8\nK:D\n${music}\n`).tunes;
  if (tune === undefined) throw new Error('no tune in the test');
  return lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31' });
};

describe('accepted ornaments', () => {
  const REEL_BARS = ['d2fd A2FA', 'g2bg e2ce', 'd2fd A2FA', 'e2ce d4'];
  const musicOf = (bars: readonly string[]): string => `${bars.join('|')}|]`;
  const first = lessonWith(musicOf(REEL_BARS));
  const onset = '0';
  const anchor = anchorAt(first.versions.plain, 'A', 1);
  if (anchor === null) throw new Error('no bar');
  const accepted = lessonOf(first.written, {
    ...first.settings,
    acceptedOrnaments: [{ anchor, onset, kind: 'cut' }],
  });
  const cutBars = ({ versions }: Lesson): readonly number[] =>
    notesOf(versions.full).flatMap(({ note, address }) => (note.graces === null ? [] : [address.bar]));

  test('move with their bar, also while the text is changed elsewhere', () => {
    expect(cutBars(accepted)).toEqual([1]);
    const edited = lessonOf(lessonWith(musicOf(['fdec d2A2', ...REEL_BARS])).written, {
      ...accepted.settings,
      ...attachedOf(accepted),
    });
    expect(cutBars(edited)).toEqual([2]);
    expect(attachedOf(edited).acceptedOrnaments[0]?.anchor.bar).toBe(2);
  });
  test('wait for their bar where it has been changed, and are told meanwhile', () => {
    const saved = { ...accepted.settings, ...attachedOf(accepted) };
    const changed = lessonOf(lessonWith(musicOf(REEL_BARS.with(1, 'gabg e2ce'))).written, saved);
    expect(cutBars(changed)).toEqual([]);
    expect(changed.ornamentsLeft).toHaveLength(1);
    const back = lessonOf(accepted.written, { ...changed.settings, ...attachedOf(changed) });
    expect(cutBars(back)).toEqual([1]);
  });
});
