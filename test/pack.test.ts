import { spawnSync } from 'node:child_process';
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { DEFAULT_SETTINGS, lessonOf } from '../src/lesson/index.ts';
import { readAbc } from '../src/notation/index.ts';
import type { buildPack as BuildPack, sourceOf as SourceOf } from '../src/pack/index.ts';
import { ROOT } from './house.ts';
import { run, workRoom } from './program.ts';

// A short tune with all that a title can do to a page, once through on one paper: the whole way, quickly.
const TUNE = `X:3
T:The Kettle & Lid <b>"Là"</b>
C:A. <script>alert(1)</script>
R:reel
M:4/4
L:1/8
K:G
|:D2|~G3B d2Bd|efge dBAB|G2{a}GB dBAB|(3BBB AF G2:|
`;
const QUICK = ['--times', '1', '--paper', 'a4', '--teacher', 'Wren Aldercott'];

const has = (program: string): boolean => spawnSync(program, ['-version']).error === undefined;
const FFMPEG = has('ffprobe');
const POPPLER = has('pdftotext');
for (const [there, name] of [
  [FFMPEG, 'ffprobe'],
  [POPPLER, 'pdftotext'],
] as const)
  if (!there) process.stderr.write(`pack: the checks that need ${name} are skipped, it is not installed\n`);

let room: Awaited<ReturnType<typeof workRoom>>;
let first: Awaited<ReturnType<typeof run>>;
const at = (...parts: readonly string[]): string => join(room.path, ...parts);

const filesUnder = async (folder: string): Promise<readonly string[]> =>
  (await readdir(folder, { recursive: true, withFileTypes: true }))
    .filter((e) => e.isFile())
    .map((e) => join(e.parentPath, e.name).slice(folder.length + 1))
    .sort();

beforeAll(async () => {
  room = await workRoom();
  await writeFile(at('tune.abc'), TUNE);
  first = await run(['pack', 'tune.abc', '--out', 'pack', ...QUICK], room.path);
});
afterAll(() => room.leave());

describe('a pack', () => {
  test('is built, says what is in it, and leaves nothing beside it', async () => {
    expect(first.err).toBe('');
    expect(first.code).toBe(0);
    expect((await readdir(room.path)).sort()).toEqual(['pack', 'tune.abc']);
    expect(first.out).toContain('tracks/01-the-kettle-lid-b-la-b-bones-to-learn-bare.mp3');
  });
  test('has every file that its manifest lists, to the byte, and no other', async () => {
    const manifest = JSON.parse(await readFile(at('pack/manifest.json'), 'utf8'));
    const listed = manifest.files.map((f: { path: string }) => f.path);
    expect(listed.filter((p: string) => p.startsWith('tracks/'))).toHaveLength(10);
    expect(listed.filter((p: string) => p.startsWith('sheets/'))).toHaveLength(7);
    const zip = 'the-kettle-lid-b-la-b-lesson-pack.zip';
    expect(await filesUnder(at('pack'))).toEqual([...listed, 'manifest.json', zip].sort());
    for (const file of manifest.files) {
      const bytes = await readFile(at('pack', file.path));
      expect(bytes.length).toBe(file.bytes);
      expect(file.state).toBe('new');
    }
    const zipped = unzipSync(new Uint8Array(await readFile(at('pack', zip))));
    expect(Object.keys(zipped).sort()).toEqual([...listed, 'manifest.json'].sort());
  });
  test('shows markup of titles as text', async () => {
    const html = await readFile(at('pack/notes.html'), 'utf8');
    expect(html).toContain('The Kettle &amp; Lid &lt;b&gt;&quot;Là&quot;&lt;/b&gt;');
    expect(html).not.toContain('<script>alert');
    expect(html).not.toContain('<b>"');
  });
  test('gives the tune back as it was written', async () => {
    expect(await readFile(at('pack/tune.abc'), 'utf8')).toBe(TUNE);
  });
  test('is the same to the byte when it is built again, and keeps what somebody put beside it', async () => {
    const before = await readFile(at('pack/manifest.json'), 'utf8');
    await writeFile(at('pack/my-own-remarks.txt'), 'mine');
    const again = await run(['pack', 'tune.abc', '--out', 'pack', ...QUICK], room.path);
    expect(again).toMatchObject({ code: 0, err: '' });
    expect(await readFile(at('pack/manifest.json'), 'utf8')).toBe(before);
    expect(await readFile(at('pack/my-own-remarks.txt'), 'utf8')).toBe('mine');
  });
  test("(regression) keeps a file of its own that was changed by hand, and somebody's zip", async () => {
    await writeFile(at('pack/description.txt'), 'my own words');
    await writeFile(at('pack/holiday-lesson-pack.zip'), 'mine');
    const again = await run(['pack', 'tune.abc', '--out', 'pack', ...QUICK], room.path);
    expect(again.code).toBe(0);
    expect(again.err).toContain('kept as "description (kept).txt"');
    expect(await readFile(at('pack/description (kept).txt'), 'utf8')).toBe('my own words');
    expect(await readFile(at('pack/description.txt'), 'utf8')).toMatch(/^The Kettle/);
    expect(await readFile(at('pack/holiday-lesson-pack.zip'), 'utf8')).toBe('mine');
  });
  test.skipIf(!FFMPEG)('has tracks that other programs decode, with tags and the right length', async () => {
    const manifest = JSON.parse(await readFile(at('pack/manifest.json'), 'utf8'));
    for (const { path, what } of manifest.files.filter((f: { path: string }) => f.path.endsWith('.mp3'))) {
      const probe = spawnSync('ffprobe', ['-v', 'error', '-show_format', '-of', 'json', at('pack', path)], {
        encoding: 'utf8',
      });
      const { format } = JSON.parse(probe.stdout);
      const [, minutes = '0', whole = '0'] = /\((\d+):(\d\d)\)/.exec(what) ?? [];
      const said = Number(minutes) * 60 + Number(whole);
      expect(Number(format.duration)).toBeGreaterThan(said - 0.6);
      expect(Number(format.duration)).toBeLessThan(said + 3);
      expect(format.tags.artist).toBe('Wren Aldercott');
      expect(format.tags.title).toContain('The Kettle & Lid <b>"Là"</b>: ');
    }
  });
  test.skipIf(!POPPLER)('has sheets with title, teacher, date and every bar number', async () => {
    const names = (await readdir(at('pack/sheets'))).filter(
      (n) => !/chord-grid|finger-map|phrase-map/.test(n),
    );
    for (const name of names) {
      const text = spawnSync('pdftotext', ['-layout', at('pack/sheets', name), '-'], {
        encoding: 'utf8',
      }).stdout;
      expect(text).toContain('The Kettle & Lid <b>"Là"</b>');
      expect(text).toContain('Wren Aldercott');
      expect(text).toContain('31 January 2026');
      for (const number of [1, 2, 3, 4])
        expect(text).toMatch(new RegExp(`(^|\\s)${number}([A-G]|\\s|$)`, 'm'));
    }
  });
});

describe('an update', () => {
  const update = () => run(['pack', 'updated', '--out', 'updated/pack', '--update'], room.path);
  const lessonWith = (fields: object) =>
    writeFile(
      at('updated/lesson.json'),
      JSON.stringify({ format: 'tuneladder-lesson', version: 1, times: 1, papers: ['A4'], ...fields }),
    );

  test('makes what is missing or out of date, and nothing else', async () => {
    await mkdir(at('updated'));
    await writeFile(at('updated/tune.abc'), TUNE);
    await lessonWith({});
    expect(await update()).toMatchObject({
      code: 0,
      out: expect.stringMatching(/ 25 of 25 files made anew/),
    });
    expect((await update()).out).toMatch(/up to date\. Nothing was made/);
    const track = 'updated/pack/tracks/10-the-kettle-lid-b-la-b-backing-alone-up-to-speed.mp3';
    const before = await readFile(at(track));
    await lessonWith({ story: 'From a fair.' });
    await rm(at('updated/pack/tune.mid'));
    const updated = await update();
    expect(updated).toMatchObject({ code: 0, err: '' });
    expect(updated.out).toMatch(/ 6 of 25 files made anew/);
    for (const name of ['practice.html', 'notes.html', 'description.txt', 'tune.mid'])
      expect(updated.out).toContain(name);
    expect(await readFile(at('updated/pack/notes.html'), 'utf8')).toContain('From a fair.');
    expect(await readFile(at(track))).toEqual(before);
  });
  test('parcels: a zip and a letter for each group; a letter that was worked on stays', async () => {
    const parcels = () =>
      run(['pack', 'updated', '--out', 'updated/pack', '--update', '--parcels', 'parcels'], room.path);
    expect(await parcels()).toMatchObject({ code: 0, err: '' });
    const name = (group: string) => `the-kettle-lid-b-la-b-for-${group}`;
    const groups = ['everybody', 'subscribers', 'supporters'];
    expect((await readdir(at('parcels'))).sort()).toEqual(
      groups.flatMap((group) => [`${name(group)}-letter.txt`, `${name(group)}.zip`]),
    );
    const letter = at(`parcels/${name('everybody')}-letter.txt`);
    await writeFile(letter, 'Dear friends');
    expect((await parcels()).err).toMatch(/everybody-letter\.txt is there already and stays as it is/);
    expect(await readFile(letter, 'utf8')).toBe('Dear friends');
  });
});

describe('what stops a pack', () => {
  test('errors in the tune: nothing is built, unless it shall be anyway', async () => {
    await writeFile(at('wrong.abc'), 'X:1\nT:Broken\nM:4/4\nL:1/8\nK:G\nG2B2 ?d2Bd|[efge dBAB|\n');
    const ran = await run(['pack', 'wrong.abc', '--out', 'wrong', ...QUICK], room.path);
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/wrong\.abc:6:\d+: /);
    expect(ran.err).toMatch(/Nothing was built/);
    expect(await readdir(room.path)).not.toContain('wrong');
    const anyway = await run(['pack', 'wrong.abc', '--out', 'wrong', '--anyway', ...QUICK], room.path);
    expect(anyway.code).toBe(0);
    expect(await readdir(at('wrong'))).toContain('notes.html');
  });
  test('a book without --tune, a tune that is not there, one without notes, one that is too long', async () => {
    await writeFile(
      at('book.abc'),
      `${TUNE}\nX:4\nT:Silence\nM:4/4\nK:G\nz8|\n\nX:5\nT:Endless\nM:4/4\nL:1/8\nK:G\n${'G8|\n'.repeat(2100)}`,
    );
    const pack = (...more: readonly string[]) =>
      run(['pack', 'book.abc', '--out', 'book', ...more, ...QUICK], room.path);
    expect((await pack()).err).toMatch(/holds 3 tunes/);
    expect((await pack('--tune', '9')).err).toMatch(/no tune with the number 9/);
    expect((await pack('--tune', '4')).err).toMatch(/no notes/);
    expect((await pack('--tune', '5')).err).toMatch(/^book\.abc:\d+:1: .*at most 2000/);
    await writeFile(at('repeats.abc'), `X:1\nT:Round\nM:4/4\nL:1/8\nK:G\n|:${'G8|'.repeat(600)}G8:|\n`);
    const round = await run(['pack', 'repeats.abc', '--out', 'book', '--times', '9'], room.path);
    expect(round.code).toBe(1);
    expect(round.err).toMatch(/plays 10818 bars; a track has at most 2000/);
    expect(await readdir(room.path)).not.toContain('book');
  });
  test("somebody else's folder is refused and left alone", async () => {
    await mkdir(at('photos'));
    await writeFile(at('photos/me.jpg'), 'x');
    const ran = await run(['pack', 'tune.abc', '--out', 'photos', ...QUICK], room.path);
    expect(ran.code).toBe(1);
    expect(await readdir(at('photos'))).toEqual(['me.jpg']);
  });
  test('a place that cannot be written: 3 in words', async () => {
    await writeFile(at('file'), 'x');
    const ran = await run(['pack', 'tune.abc', '--out', 'file/pack', ...QUICK], room.path);
    expect(ran.code).toBe(3);
    expect(ran.err).toMatch(/cannot (make|look into) /);
  });
  test('a lesson folder with a wrong lesson.json names the field', async () => {
    await mkdir(at('lesson'));
    await writeFile(at('lesson/tune.abc'), TUNE);
    await writeFile(
      at('lesson/lesson.json'),
      '{"format":"tuneladder-lesson","version":1,"times":99,"colour":"red"}',
    );
    const ran = await run(['pack', 'lesson', '--out', 'from-lesson'], room.path);
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/^lesson\/lesson\.json:1:\d+: times is too large; at most 9\.$/m);
    expect(ran.err).toMatch(/colour/);
  });
  test('Ctrl-C: the former pack stays as it was and no temporary file is left', async () => {
    const before = await readFile(at('pack/manifest.json'), 'utf8');
    const stop = new AbortController();
    setTimeout(() => stop.abort(), 700);
    const ran = await run(['pack', 'tune.abc', '--out', 'pack', '--times', '9'], room.path, {
      signal: stop.signal,
    });
    expect(ran.code).toBe(130);
    expect(ran.err).toMatch(/Stopped/);
    expect(await readFile(at('pack/manifest.json'), 'utf8')).toBe(before);
    expect((await readdir(room.path)).filter((n) => n.startsWith('.'))).toEqual([]);
  });
});

describe('when a job fails', () => {
  // A worker that makes every file but the tracks, which fail, and one sheet, which hangs.
  const BROKEN = new URL(
    `data:text/javascript,${encodeURIComponent(`
      import { parentPort } from 'node:worker_threads';
      parentPort.on('message', (job) => {
        if (job.kind === 'track') return parentPort.postMessage({ kind: 'failed', why: job.plan.number > 1 ? 'no bank' : 'Array buffer allocation failed' });
        if (job.page === 'chordGrid') return;
        parentPort.postMessage({ kind: 'done', files: [{ path: job.paths[0], bytes: new TextEncoder().encode('new') }] });
      });`)}`,
  );

  test('it is named, its former file is kept and marked old, the rest is new', async () => {
    const { buildPack, sourceOf } = (await import(pathToFileURL(join(ROOT, 'dist/pack/index.js')).href)) as {
      readonly buildPack: typeof BuildPack;
      readonly sourceOf: typeof SourceOf;
    };
    const [tune] = readAbc(TUNE).tunes;
    if (tune === undefined) throw new Error('no tune');
    const settings = {
      ...DEFAULT_SETTINGS,
      date: '2026-02-01',
      papers: ['A4'] as const,
      teacher: 'Wren Aldercott',
    };
    const formerTrack = await readFile(at('pack/tracks/01-the-kettle-lid-b-la-b-bones-to-learn-bare.mp3'));
    await rm(at('pack/tracks/02-the-kettle-lid-b-la-b-bones-steady-with-backing.mp3'));
    const result = await buildPack(
      lessonOf(tune.score, settings),
      sourceOf(TUNE, tune, settings, 'default'),
      {
        out: at('pack'),
        signal: new AbortController().signal,
        onProgress: () => undefined,
        patience: 500,
        workerUrl: BROKEN,
      },
    );
    if (result.kind !== 'built') throw new Error(result.kind);
    const stateOf = (part: string) => result.manifest.files.find((f) => f.path.includes(part))?.state;
    expect(stateOf('bones-to-learn-bare')).toBe('old');
    expect(stateOf('bones-steady-with-backing')).toBeUndefined();
    expect(stateOf('chord-grid')).toBe('old');
    expect(stateOf('notes.html')).toBe('new');
    expect(result.manifest.failed).toHaveLength(11);
    const whys = result.manifest.failed.map((f) => f.why);
    expect(whys).toContain('no bank');
    expect(whys).toContainEqual(expect.stringMatching(/not enough memory/));
    expect(result.manifest.failed.find((f) => f.what.startsWith('chord grid'))?.why).toMatch(
      /no sign of life/,
    );
    expect(await readFile(at('pack/tracks/01-the-kettle-lid-b-la-b-bones-to-learn-bare.mp3'))).toEqual(
      formerTrack,
    );
    expect(await readFile(at('pack/notes.html'), 'utf8')).toBe('new');
  });
});
