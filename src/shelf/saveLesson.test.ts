import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { WorldError } from '../store/index.ts';
import { type LessonTexts, revisionOf } from './lessonTexts.ts';
import { lessonKeeperOf } from './saveLesson.ts';
import { diskFiles } from './shelfFiles.ts';
import { type FailingFiles, failingFiles } from './testing/failingFiles.ts';

const texts = (n: number): LessonTexts => ({
  abc: `X:1\nT:Tune ${n}\nM:4/4\nL:1/8\nK:G\nGABd edBd|\n`,
  settings: `{ "format": "tuneladder-lesson", "version": 1, "teacher": "Teacher ${n}" }\n`,
});

let folder = '';
let files: FailingFiles;
let clock = 0;
const keeper = () => lessonKeeperOf(files, () => new Date(clock));
const onDisk = async (): Promise<LessonTexts> => ({
  abc: await readFile(join(folder, 'tune.abc'), 'utf8'),
  settings: await readFile(join(folder, 'lesson.json'), 'utf8'),
});
const put = async ({ abc, settings }: LessonTexts): Promise<void> => {
  await rm(folder, { recursive: true, force: true });
  await mkdir(folder);
  await writeFile(join(folder, 'tune.abc'), abc);
  await writeFile(join(folder, 'lesson.json'), settings);
};
/** As the next start of the program finds it. */
const found = async (): Promise<LessonTexts> =>
  (await lessonKeeperOf(diskFiles, () => new Date(clock)).read(folder)).texts;
const leftovers = async (): Promise<readonly string[]> =>
  (await readdir(folder)).filter((name) => name.startsWith('.'));

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tuneladder-save-'));
  files = failingFiles();
  clock = Date.UTC(2026, 10, 25, 12);
  await put(texts(0));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const BASE = revisionOf(texts(0));
const changes = {
  'both texts': texts(1),
  'the tune alone': { ...texts(0), abc: texts(1).abc },
  'the settings alone': { ...texts(0), settings: texts(1).settings },
};

describe.each(Object.entries(changes))('a save of %s', (_, after) => {
  test('is on the disk when it is told, with nothing left beside it', async () => {
    expect(await keeper().save(folder, after, { base: BASE })).toEqual({
      kind: 'saved',
      revision: revisionOf(after),
    });
    expect(await onDisk()).toEqual(after);
    expect(await leftovers()).toEqual([]);
  });

  test('killed at any step leaves one whole state', async () => {
    await keeper().save(folder, after, { base: BASE });
    const steps = files.count();
    expect(steps).toBeGreaterThan(4);
    const states: string[] = [];
    for (let at = 1; at <= steps; at += 1) {
      await put(texts(0));
      files.plan({ kind: 'killed', at });
      await expect(keeper().save(folder, after, { base: BASE })).rejects.toThrow();
      const state = await found();
      expect([texts(0), after]).toContainEqual(state);
      expect(await onDisk()).toEqual(state);
      states.push(state.abc === after.abc && state.settings === after.settings ? 'after' : 'before');
    }
    // Once the new state counts it counts for good.
    expect(states.join(' ')).toMatch(/^(before ?)+(after ?)+$/);
    files.plan({ kind: 'killed', at: steps + 1 });
    await put(texts(0));
    expect((await keeper().save(folder, after, { base: BASE })).kind).toBe('saved');
    expect(await found()).toEqual(after);
  });

  test.each([
    ['ENOSPC', /the disk is full/],
    ['EACCES', /you have no permission there/],
    ['EROFS', /that disk is read-only/],
  ])('that fails with %s at any step is told in words, and the lesson is as it was', async (code, words) => {
    await keeper().save(folder, after, { base: BASE });
    const steps = files.count();
    let told = 0;
    for (let at = 1; at <= steps; at += 1) {
      await put(texts(0));
      files.plan({ kind: 'fails', at, code });
      const outcome = await keeper()
        .save(folder, after, { base: BASE })
        .then(
          ({ kind }) => kind,
          (error: unknown) => error,
        );
      if (outcome instanceof WorldError) {
        told += 1;
        expect(outcome.message).toMatch(words);
        expect(await onDisk()).toEqual(texts(0));
        expect(await found()).toEqual(texts(0));
      } else {
        // What failed was only the earlier state, or the tidying.
        expect(outcome).toBe('saved');
        expect(await found()).toEqual(after);
      }
      files.plan(null);
      expect((await keeper().save(folder, texts(2), { base: revisionOf(await found()) })).kind).toBe('saved');
      expect(await onDisk()).toEqual(texts(2));
      expect(await leftovers()).toEqual([]);
    }
    expect(told).toBeGreaterThan(1);
  });
});

test('what somebody else wrote while a save was cut off is kept as an earlier state', async () => {
  await keeper().save(folder, texts(1), { base: BASE });
  const steps = files.count();
  for (let at = 1; at <= steps; at += 1) {
    await put(texts(0));
    files.plan({ kind: 'killed', at });
    await keeper()
      .save(folder, texts(1), { base: BASE })
      .catch(() => undefined);
    await writeFile(join(folder, 'tune.abc'), texts(7).abc);
    const state = await found();
    const own = lessonKeeperOf(diskFiles, () => new Date(clock));
    const kept = await Promise.all(
      (await own.earlier(folder)).map(({ mark }) => own.earlierTexts(folder, mark)),
    );
    expect([state.abc, ...kept.map((earlier) => earlier?.abc)]).toContain(texts(7).abc);
  }
});

test('equal texts write nothing', async () => {
  expect(await keeper().save(folder, texts(0), { base: 'whatever' })).toEqual({
    kind: 'saved',
    revision: BASE,
  });
  expect(files.count()).toBe(0);
});

test('a save from an old state writes nothing and names what both come from', async () => {
  const one = keeper();
  await one.read(folder);
  await one.save(folder, texts(1), { base: BASE });
  files.plan(null);
  const answer = await one.save(folder, texts(2), { base: BASE });
  expect(answer).toMatchObject({ kind: 'changed', now: { texts: texts(1) }, base: texts(0) });
  expect(files.count()).toBe(0);
  // Also by a program that was started since: the earlier state has it.
  expect(await keeper().save(folder, texts(2), { base: BASE })).toMatchObject({ base: texts(0) });
  expect(await keeper().save(folder, texts(2), { base: 'nobody knows' })).toMatchObject({ base: null });
});

describe('earlier states', () => {
  const whats = async () => (await keeper().earlier(folder)).map(({ what }) => what);
  test('are kept at the first save, after a pause, now and then without one, and when asked for', async () => {
    const one = keeper();
    const save = async (n: number, minutes: number, keepsBefore = false) => {
      const base = (await one.read(folder)).revision;
      clock += minutes * 60_000;
      expect(await one.save(folder, texts(n), { base, keepsBefore })).toMatchObject({ kind: 'saved' });
      return (await one.earlier(folder)).length;
    };
    expect(await save(1, 0)).toBe(1);
    expect(await save(2, 0.1)).toBe(1);
    expect(await save(3, 2)).toBe(1);
    expect(await save(4, 4)).toBe(2);
    expect(await save(5, 1, true)).toBe(3);
    for (let n = 6; n < 40; n += 1) await save(n, 1);
    expect((await one.earlier(folder)).length).toBe(5);
  });
  test('say what differs', async () => {
    const one = keeper();
    const states: LessonTexts[] = [
      texts(0),
      { ...texts(0), abc: `${texts(0).abc}GABd g4|\nd4 g4|\n` },
      {
        ...texts(0),
        settings: '{ "format": "tuneladder-lesson", "version": 1, "density": "fuller", "stayDowns": "all" }',
      },
      texts(3),
    ];
    for (const state of states) {
      const base = (await one.read(folder)).revision;
      clock += 600_000;
      await one.save(folder, state, { base });
    }
    clock += 600_000;
    await one.save(folder, texts(9), { base: revisionOf(texts(3)) });
    expect(await whats()).toEqual([
      'One line of the tune, density, fingers that stay down, teacher',
      '2 lines of the tune, teacher, density, fingers that stay down',
      '2 lines of the tune',
      'The oldest state that is kept',
    ]);
  });
  test('there is none of a mark that leads elsewhere', async () => {
    expect(await keeper().earlierTexts(folder, '..')).toBeNull();
    expect(await keeper().earlierTexts(folder, '.')).toBeNull();
  });
});

describe('a broken lesson', () => {
  const problems = async () => (await keeper().read(folder)).problems;
  test('without lesson.json is one about which nothing is decided', async () => {
    await rm(join(folder, 'lesson.json'));
    const lesson = await keeper().read(folder);
    expect(lesson.problems).toEqual([]);
    expect(JSON.parse(lesson.texts.settings)).toEqual({ format: 'tuneladder-lesson', version: 1 });
  });
  test('says what is wrong, and gives its texts as far as they are', async () => {
    await writeFile(join(folder, 'lesson.json'), '{ "format": ');
    expect(await problems()).toEqual([expect.stringMatching(/^lesson\.json, line 1: .*JSON/)]);
    await rm(join(folder, 'tune.abc'));
    expect((await problems())[0]).toBe('tune.abc is missing.');
    await writeFile(join(folder, 'tune.abc'), 'no tune at all');
    expect(await keeper().read(folder)).toMatchObject({
      texts: { abc: 'no tune at all', settings: '{ "format": ' },
      problems: [expect.stringMatching(/holds no tune/), expect.stringMatching(/^lesson\.json/)],
    });
  });
  test('of bytes that are no text keeps them when it is mended', async () => {
    const bytes = Buffer.from('X:1\nT:Caf\xe9\nK:G\nGABd|\n', 'latin1');
    await writeFile(join(folder, 'tune.abc'), bytes);
    const lesson = await keeper().read(folder);
    expect(lesson.problems[0]).toMatch(/line 2 is not UTF-8/);
    expect(lesson.texts.abc).toContain('GABd');
    files.plan({ kind: 'fails', at: 1, code: 'ENOSPC' });
    await expect(keeper().save(folder, texts(1), { base: lesson.revision })).rejects.toThrow(
      /could not be kept as an earlier state: the disk is full, so nothing was written/,
    );
    expect(await readFile(join(folder, 'tune.abc'))).toEqual(bytes);
    files.plan(null);
    await keeper().save(folder, texts(1), { base: lesson.revision });
    const [mark = ''] = (await readdir(join(folder, 'earlier'))).filter((name) => !name.startsWith('.'));
    expect(await readFile(join(folder, 'earlier', mark, 'tune.abc'))).toEqual(bytes);
  });
  test('(an old Latin-1 file that says so is whole, and says UTF-8 from now on)', async () => {
    const text = '%%abc-charset iso-8859-1\nX:1\nT:Caf\xe9\nK:G\nGABd|\n';
    await writeFile(join(folder, 'tune.abc'), Buffer.from(text, 'latin1'));
    const { texts: read, problems: wrong } = await keeper().read(folder);
    expect({ wrong, abc: read.abc }).toEqual({ wrong: [], abc: text.replace('iso-8859-1', 'utf-8') });
  });
});
