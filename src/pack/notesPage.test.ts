import { expect, test } from 'vitest';
import { loadEngraver } from '../engrave/index.ts';
import { DEFAULT_SETTINGS, lessonOf, teachingNotesOf, withKeptBar } from '../lesson/index.ts';
import { readAbc, readAbcBar } from '../notation/index.ts';
import { notesPage } from './notesPage.ts';
import { ornamentPictures, partPictures } from './partPictures.ts';

const NASTY = `X:1
T:<img src=x onerror=alert(1)> & "Co"
C:</style><script>alert(2)</script>
R:reel
M:4/4
L:1/8
K:G
|:D2|"<b>G"G2BG dGBG|A2cA eAcA|"^</svg><script>alert(3)</script>"G2BG dGBd|cAFA G2:|
|:Bd|g2bg dgbg|a2fa dafa|g2bg dgbg|cAFA G2:|
`;

test('nothing that a lesson says becomes markup, in text or in pictures', async () => {
  const [tune] = readAbc(NASTY).tunes;
  if (tune === undefined) throw new Error('no tune');
  const story = 'First.\n\n<script>alert(4)</script>\u0000';
  const lesson = lessonOf(tune.score, {
    ...DEFAULT_SETTINGS,
    date: '2026-01-31',
    story,
    teacher: '<i>A</i>',
  });
  const engraver = await loadEngraver();
  const notes = teachingNotesOf(lesson);
  const parts = partPictures(lesson, engraver);
  const ornaments = ornamentPictures(lesson, notes.ornaments, engraver);
  const page = notesPage(lesson, notes, { parts, ornaments });
  expect([...parts.values()].map((lines) => lines.length)).toEqual([1, 1]);
  expect(page.match(/<svg/g)).toHaveLength(2);
  expect(page).not.toMatch(/<script|<img|<i>|<b>/);
  expect(page.includes('\u0000')).toBe(false);
  expect(page).toContain('&lt;img src=x onerror=alert(1)&gt;');
  expect(page).toContain('&lt;script&gt;alert(4)');
  expect(page).not.toMatch(/(src|href|xlink:href)="(?!#)/);
});

const NO_PICTURES = { parts: new Map(), ornaments: new Map() };

test('the page says how any two neighbours and all together fit, and what has become of a kept bar', () => {
  const [tune] = readAbc('X:1\nT:The Kettle Lid\nR:reel\nM:4/4\nL:1/8\nK:D\nD2FA dAFA|Bcdf e2AF|\n').tunes;
  if (tune === undefined) throw new Error('no tune');
  const { key, metre, unit } = tune.score;
  const typed = readAbcBar('c4 e4', { key, metre, unit });
  if (typed.kind !== 'bar') throw new Error('not read');
  const plain = lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31' });
  expect(notesPage(plain, teachingNotesOf(plain), NO_PICTURES)).not.toContain('kept');
  const one = { version: 'bones', part: 'A', bar: 1, events: typed.events, everywhere: false };
  const lesson = lessonOf(tune.score, { ...plain.settings, ...withKeptBar(plain, one) });
  const page = notesPage(lesson, teachingNotesOf(lesson), NO_PICTURES);
  const clash = 'Does not fit: bar 2 clashes on beat 2 (D against C♯).';
  expect(page).toContain(`<dt>The bones with all the notes</dt><dd>${clash}</dd>`);
  expect(page).toMatch(/<dt>All the notes with full version<\/dt><dd>Fits\./);
  expect(page).toContain('<dt>All three together</dt><dd>Does not fit: ');
  expect(page).toContain('Bar 2 is as you kept it. It clashes with all the notes on beat 2 (D against C♯).');
});
