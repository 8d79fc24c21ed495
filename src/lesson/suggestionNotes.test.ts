import { expect, test } from 'vitest';
import { ornamentsOf } from '../fiddle/index.ts';
import { readAbc } from '../notation/index.ts';
import type { AcceptedEntry } from './acceptedOrnaments.ts';
import { DEFAULT_SETTINGS, type Lesson, lessonOf, suggestedKinds, suggestionNotesOf } from './index.ts';

const TUNE =
  'X:1\nR:reel\nM:4/4\nL:1/8\nK:G\n|:G3B d2Bd|efge dBAB|G3B dBBA|GEED E2DE|G3B d2Bd|efge d2Bd|e2dB cAFA|BGAF G4:|\n';

const lessonWith = (
  acceptedOrnaments: readonly AcceptedEntry[],
  words: 'british' | 'us' = 'british',
): Lesson => {
  const [tune] = readAbc(TUNE).tunes;
  if (tune === undefined) throw new Error('no tune');
  return lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '', words, acceptedOrnaments });
};

test('each suggestion says where, what, why, with which finger and stroke', () => {
  const [roll, , cut, , treble, drone] = suggestionNotesOf(lessonWith([]));
  expect(roll).toMatchObject({
    place: 'Bar 1, beat 1',
    number: 1,
    what: 'Long roll on G',
    finger:
      'The third finger on the D string: the fourth flicks above it, then the third lifts and falls back.',
    bow: 'Down-bow.',
  });
  expect(roll?.reason).toMatch(/^A dotted crotchet gives it time; it marks the first beat of the bar; /);
  expect(roll?.reason).toMatch(/; the bar comes 2 times, with the same each time\.$/);
  expect(cut).toMatchObject({
    place: 'Bar 4, beat 1',
    what: 'Cut on E: F♯ before it',
    finger: 'The second finger flicks above the first finger on the D string.',
  });
  expect(cut?.reason).toMatch(/^It parts two notes of one pitch; it marks the off-beat after beat 1; /);
  expect(treble).toMatchObject({
    what: 'Treble on E',
    finger: 'The open E string; the wrist does it.',
  });
  expect(treble?.reason).toMatch(/^The open E string can have no roll; the left hand has nothing to do; /);
  expect(treble?.bow).toMatch(/^Three strokes: (down, up, down|up, down, up)\.$/);
  expect(drone?.what).toBe('Drone under G: the open G string');
  expect(drone?.reason).toMatch(/^It is the last note of the part; the open G is the root of the chord, G/);
});

test('in US words', () => {
  const [roll] = suggestionNotesOf(lessonWith([], 'us'));
  expect(roll?.place).toBe('Measure 1, beat 1');
  expect(roll?.reason).toMatch(
    /^A dotted quarter note gives it time; it marks the first beat of the measure; /,
  );
});

test('none is in the full version before it is accepted; then each is, and plain and bones stay', () => {
  const before = lessonWith([]);
  const accepted = suggestionNotesOf(before).map((s) => s.accept);
  const after = lessonWith(accepted);
  expect(ornamentsOf(before.versions.full)).toEqual([]);
  expect(ornamentsOf(after.versions.full).map((o) => o.kind)).toEqual(accepted.map((a) => a.kind));
  expect(after.versions.plain).toEqual(before.versions.plain);
  expect(after.versions.bones).toEqual(before.versions.bones);
  expect(after.ornamentsLeft).toEqual([]);
});

test('an ornament whose bar has changed is left out and told', () => {
  const lost: AcceptedEntry = { anchor: { part: 'A', bar: 0, plain: 'D4:1' }, onset: '0', kind: 'cut' };
  const gone: AcceptedEntry = { anchor: { part: 'C', bar: 0, plain: 'D4:1' }, onset: '0', kind: 'cut' };
  expect(lessonWith([lost, gone]).ornamentsLeft).toEqual([lost, gone]);
});

test('kinds are called by the teacher’s own words', () => {
  const lesson = lessonWith([]);
  const named = {
    ...lesson,
    settings: { ...lesson.settings, names: { ...lesson.settings.names, cut: 'flick' } },
  };
  expect(suggestionNotesOf(named).map(({ what }) => what)).toContain('Flick on E: F♯ before it');
  expect(suggestedKinds(named, 'cut')).toBe('flicks');
  expect(suggestedKinds(named, 'doubleGrace')).toBe('two flicks');
  expect(suggestedKinds(lesson, 'longRoll')).toBe('long rolls');
});
