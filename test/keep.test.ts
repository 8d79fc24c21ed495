import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { type Ran, run, workRoom } from './program.ts';

const TUNE =
  'X:1\nT:The Kettle Lid\nR:reel\nM:4/4\nL:1/8\nK:D\n|:AF|D2FA dAFA|Bcdf e2AF|D2FA dAFA|gfec d2:|\n';
const LESSON =
  '{\n  "format": "tuneladder-lesson",\n  "version": 1,\n  "papers": ["A4"],\n  "teacher": "Wren"\n}\n';

let room: Awaited<ReturnType<typeof workRoom>>;
beforeEach(async () => {
  room = await workRoom();
  await mkdir(join(room.path, 'lid'));
  await writeFile(join(room.path, 'lid/tune.abc'), TUNE);
  await writeFile(join(room.path, 'lid/lesson.json'), LESSON);
});
afterEach(() => room.leave());

const keep = (...argv: readonly string[]): Promise<Ran> => run(['keep', 'lid', ...argv], room.path);
const stored = async (): Promise<Record<string, unknown>> =>
  JSON.parse(await readFile(join(room.path, 'lid/lesson.json'), 'utf8'));

test('a typed bar is kept in lesson.json, listed, and forgotten again', async () => {
  expect(await keep()).toEqual({ code: 0, out: 'No bar is kept.\n', err: '' });
  expect(await keep('--bar', '2', 'B2 d2 e4')).toEqual({
    code: 0,
    out: 'Bar 2 is as you kept it.\n',
    err: '',
  });
  expect(await stored()).toMatchObject({
    teacher: 'Wren',
    keptBars: [
      {
        version: 'bones',
        anchor: { part: 'A', bar: 2 },
        events: [{ pitches: ['B4'], length: '1/4' }, {}, {}],
      },
    ],
    barTable: [{ part: 'A' }],
  });
  expect((await keep('--bar', '2')).out).toMatch(
    /^All the notes: Bcdf e2AF\nThe bones: B2 d2 e4\nTo choose from:\n {2}1 /,
  );
  expect((await keep()).out).toBe('1. Bar 2 is as you kept it.\n');
  expect((await keep('--forget', '1')).out).toBe('Forgotten: Bar 2 is as you kept it.\n');
  expect(await stored()).toEqual(JSON.parse(LESSON));
});

test('a pick-up is named by part and place, and --everywhere holds for equal bars', async () => {
  expect((await keep('--bar', 'A/0', 'A2')).out).toBe('The pick-up to part A is as you kept it.\n');
  expect((await keep('--bar', '1', 'D4 d4', '--everywhere')).out).toBe(
    'Bar 1 and all bars equal to it are as you kept them.\n',
  );
  expect((await keep('--bar', '3')).out).toContain('D4 d4');
});

test('the bar is found again when the tune was changed by another program', async () => {
  await keep('--bar', '2', 'B2 d2 e4');
  await writeFile(join(room.path, 'lid/tune.abc'), TUNE.replace('|Bcdf', '|GABc dcBA|Bcdf'));
  expect((await keep()).out).toBe('1. Bar 3 is as you kept it.\n');
  await writeFile(join(room.path, 'lid/tune.abc'), TUNE.replace('Bcdf e2AF|', ''));
  expect((await keep()).out).toMatch(/^1\. A bar of part A was kept, but the bar is no longer in the tune/);
});

test('a bar is chosen from those that are listed, with reasons', async () => {
  const { out } = await keep('--bar', '4');
  const [first = '', second = ''] = out.split('To choose from:\n')[1]?.split('\n') ?? [];
  expect(first).toMatch(/^ {2}1 {2}\S.* {2}the usual choice/);
  const abc = /^ {2}2 {2}(.*?) {2,}\S/.exec(second)?.[1] ?? '';
  expect((await keep('--bar', '4', '--choice', '2')).out).toBe('Bar 4 is as you kept it.\n');
  expect((await keep('--bar', '4')).out).toContain(`The bones: ${abc}\n`);
});

test('pack speaks of kept bars that need a look', async () => {
  await keep('--bar', '2', 'B2 d2 e4');
  await writeFile(join(room.path, 'lid/tune.abc'), TUNE.replace('Bcdf e2AF|', ''));
  const ran = await run(['pack', 'lid', '--out', 'lid'], room.path);
  expect(ran.err).toMatch(/tune\.abc:1:1: remark: A bar of part A was kept/);
});

test.each([
  [
    ['--bar', '2', 'B2 d2 e2'],
    /^NOTES:1:1: this bar lasts 3 crotchets, the tune's 4 crotchets\. All the notes have: Bcdf e2AF$/m,
  ],
  [['--bar', '2', 'B2 "d2 e2'], /^NOTES:1:4: A text begins here/m],
  [['--bar', '2', 'B2|d2'], /several bars/],
  [['--bar', '99', 'D8'], /^lid: the tune has no bar "99"\.$/m],
  [['--bar', '2', '--choice', '9'], /^--choice takes a number from 1 to [345] for this bar, not "9"\.$/m],
  [
    ['--bar', '2', '--choice', '1', '--version', 'thin'],
    /no bones "thin"; say which with --version: bones\./,
  ],
  [['--forget', '1'], /nothing is kept under "1"/],
])('%j: 1, said in words, and lesson.json stays as it was', async (argv, message) => {
  const ran = await keep(...argv);
  expect(ran.code).toBe(1);
  expect(ran.err).toMatch(message);
  expect(await readFile(join(room.path, 'lid/lesson.json'), 'utf8')).toBe(LESSON);
});

test.each([
  [['keep'], /name one lesson folder/],
  [['keep', 'lid', 'D8'], /say which bar/],
  [['keep', 'lid', '--choice', '2'], /say which bar/],
  [['keep', 'lid', '--bar', '2', 'D8', '--choice', '2'], /not both/],
  [['keep', 'lid', '--bar', '2', '--forget', '1'], /--forget takes/],
  [['keep', 'lid', '--bar', '2', 'D8', 'D8'], /put the notes of a bar into quotes/],
])('%j is a wrong command line', async (argv, message) => {
  const ran = await run(argv, room.path);
  expect(ran.code).toBe(2);
  expect(ran.err).toMatch(message);
});

test('a bare tune is no lesson', async () => {
  const ran = await run(['keep', 'lid/tune.abc'], room.path);
  expect(ran.code).toBe(1);
  expect(ran.err).toMatch(/name a folder with lesson\.json and tune\.abc/);
});
