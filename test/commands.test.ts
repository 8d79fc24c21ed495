import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { run, workRoom } from './program.ts';

const TUNE = 'X:1\nT:The Kettle Lid\nR:reel\nM:4/4\nL:1/8\nK:G\n|:~G3B d2Bd|efge dBAB:|\n';
const WRONG = 'X:1\nT:Broken\nM:4/4\nL:1/8\nK:G\nG2B2 ?d2Bd|[efge dBAB|\n';

let room: Awaited<ReturnType<typeof workRoom>>;
beforeEach(async () => {
  room = await workRoom();
  await writeFile(join(room.path, 'tune.abc'), TUNE);
  await writeFile(join(room.path, 'wrong.abc'), WRONG);
});
afterEach(() => room.leave());

describe('the command line', () => {
  test.each([
    [[], 2],
    [['help'], 0],
    [['--help'], 0],
    [['pack', '--help'], 0],
    [['help', 'versions'], 0],
  ])('%j prints help and exits with %i', async (argv, code) => {
    const ran = await run(argv, room.path);
    expect(ran.code).toBe(code);
    expect(ran.out).toMatch(/tuneladder (check|versions|pack)/);
    expect(ran.err).toBe('');
  });
  test.each([
    [['engrave'], /no command "engrave"/],
    [['check'], /name at least one/],
    [['check', '--jsno', 'tune.abc'], /^tuneladder check: there is no option --jsno\.$/m],
    [['check', '--json=yes', 'tune.abc'], /^tuneladder check: --json takes no value\.$/m],
    [['versions', 'tune.abc', '--out'], /^tuneladder versions: --out needs a value\.$/m],
    [['versions'], /name one ABC file/],
    [['versions', 'a.abc', 'b.abc'], /name one ABC file/],
    [['pack', 'tune.abc'], /--out DIR/],
    [['pack', 'tune.abc', '--out', 'o', '--times', '0'], /from 1 to 9/],
    [['pack', 'tune.abc', '--out', 'o', '--tracks', 'some'], /default, all/],
    [['pack', 'tune.abc', '--out', 'o', '--date', '2026-13-01'], /a day like/],
    [['pack', 'tune.abc', '--out', 'o', '--date', '2026-02-31'], /a day like/],
    [['pack', 'tune.abc', '--out', 'o', '--teacher', 'x'.repeat(201)], /at most 200 characters/],
    [['pack', 'tune.abc', '--out', 'o', '--paper', 'a3'], /a4, letter, both/],
    [['versions', 'tune.abc', '--marks', 'many'], /versions: --marks takes none, some, all, not "many"/],
    [['pack', 'tune.abc', '--out', 'o', '--tuning', 'CGDA'], /GDAE, AEAE, ADAE, GDGD/],
    [['pack', 'tune.abc', '--out', 'o', '--density', 'thick'], /barest, sparser/],
  ])('%j is a wrong command line: 2, said in words', async (argv, message) => {
    const ran = await run(argv, room.path);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(message);
    expect(ran.out).toBe('');
  });
});

describe('check', () => {
  test('a sound tune: 0 and one line', async () => {
    const ran = await run(['check', 'tune.abc'], room.path);
    expect(ran).toEqual({ code: 0, out: 'tune.abc: 1 tune, 0 errors, 0 warnings, 0 remarks\n', err: '' });
  });
  test('a double stop that first position does not hold is remarked on where it stands', async () => {
    await writeFile(join(room.path, 'third.abc'), TUNE.replace('d2Bd', '[Bd]2Bd'));
    const ran = await run(['check', 'third.abc'], room.path);
    expect(ran.code).toBe(0);
    expect(ran.err).toMatch(/^third\.abc:7:8: remark: D and B together lie in no grip of first position\. /m);
  });
  test('errors: 1, each with file, line, column', async () => {
    const ran = await run(['check', 'wrong.abc'], room.path);
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/^wrong\.abc:6:\d+: /m);
  });
  test('an ornament that no hand can play is warned of at its place', async () => {
    const body = 'X:1\nT:Open\nM:4/4\nL:1/8\nK:G\n~A4 {G}A4|[GBd]4 {c}A4|]\n';
    await writeFile(join(room.path, 'open.abc'), body);
    const ran = await run(['check', 'open.abc'], room.path);
    expect(ran.code).toBe(0);
    const places = ran.err.split('\n').flatMap((line) => /^[^ ]+ warning: [\w ]+/.exec(line)?.[0] ?? []);
    expect(places).toEqual([
      'open.abc:6:2: warning: A roll on A',
      'open.abc:6:8: warning: A lower grace note on A',
      'open.abc:6:12: warning: 3 notes at once',
    ]);
  });
  test('--json prints one document and nothing else', async () => {
    const ran = await run(['check', 'wrong.abc', '--json'], room.path);
    const { files } = JSON.parse(ran.out);
    expect(ran.code).toBe(1);
    expect(ran.err).toBe('');
    expect(files[0].tunes).toEqual([{ number: 1, title: 'Broken', line: 1 }]);
    expect(
      files[0].diagnostics.some(
        (d: { severity: string; line: number }) => d.severity === 'error' && d.line === 6,
      ),
    ).toBe(true);
  });
  test.each([
    ['nothing.abc', null, /no such file/],
    ['folder', undefined, /folder, not a file/],
    ['empty.abc', '', /empty/],
    ['binary.abc', new Uint8Array([127, 69, 76, 70, 0, 0, 7]), /no text file/],
    ['archive.abc', new Uint8Array([80, 75, 3, 4, 0, 0, 7]), /archive is damaged/],
    ['latin.abc', Buffer.from('X:1\nT:Ch\xe9rie\nK:G\nGABc|\n', 'latin1'), /not UTF-8/],
    ['prose.abc', 'Dear teacher,\nhere is my tune.\n', /no tune/],
  ])('%s: 1 and the remedy', async (name, content, message) => {
    if (content === undefined) await mkdir(join(room.path, name));
    else if (content !== null) await writeFile(join(room.path, name), content);
    const ran = await run(['check', name], room.path);
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(message);
    expect(ran.err.startsWith(`${name}:1:1: `)).toBe(true);
  });
  test('(regression) a file without a tune is complained of once, with no sum after it', async () => {
    await writeFile(join(room.path, 'prose.abc'), 'Dear teacher,\nhere is my tune.\n');
    const ran = await run(['check', 'prose.abc'], room.path);
    expect(ran.err.trimEnd().split('\n')).toHaveLength(1);
    expect(ran.out).toBe('');
  });
  test('(regression) --json tells of files that cannot be read inside its one document', async () => {
    const ran = await run(['check', 'tune.abc', 'nothing.abc', '--json'], room.path);
    const { files } = JSON.parse(ran.out);
    expect(ran).toMatchObject({ code: 1, err: '' });
    expect(files.map((f: { file: string }) => f.file)).toEqual(['tune.abc', 'nothing.abc']);
    expect(files[1]).toMatchObject({
      tunes: [],
      diagnostics: [{ code: 'unreadable', severity: 'error', message: 'there is no such file.', line: 1 }],
    });
  });
});

describe('versions', () => {
  test('--suggest says which ornaments might be played, as comments after the versions', async () => {
    const ran = await run(['versions', 'tune.abc', '--suggest', 'many'], room.path);
    expect(ran.code).toBe(0);
    const said = ran.out.split('\n').filter((line) => line.startsWith('% '));
    expect(said.length).toBeGreaterThan(0);
    for (const line of said) expect(line).toMatch(/^% Bar \d+, beat \d+: .+\. .+\. .+\. .+\.$/);
  });
  test('--suggest takes one of three words, and --vary goes with it', async () => {
    for (const more of [['--suggest', 'lots'], ['--vary']])
      expect((await run(['versions', 'tune.abc', ...more], room.path)).code).toBe(2);
  });
  test('without --out prints the three as ABC, the bones first', async () => {
    const ran = await run(['versions', 'tune.abc'], room.path);
    expect(ran.code).toBe(0);
    expect(ran.out.match(/^X:1$/gm)).toHaveLength(3);
    expect(ran.out).toContain('~G3');
  });
  test('--out writes a folder a tune, with -2 where a name comes again', async () => {
    await writeFile(join(room.path, 'book.abc'), `${TUNE}\n${TUNE}\n${TUNE.replace('X:1', 'X:7')}`);
    const ran = await run(['versions', 'book.abc', '--out', 'out'], room.path);
    expect(ran.code).toBe(0);
    expect((await readdir(join(room.path, 'out'))).sort()).toEqual([
      '1-the-kettle-lid',
      '1-the-kettle-lid-2',
      '7-the-kettle-lid',
      'manifest.json',
    ]);
    const files = await readdir(join(room.path, 'out/7-the-kettle-lid'));
    expect(files.sort()).toEqual(['bones.abc', 'full.abc', 'plain.abc', 'report.json']);
    const again = await run(['check', 'out/7-the-kettle-lid/bones.abc'], room.path);
    expect(again.code).toBe(0);
  });
  test('a folder with other files in it is refused and left alone', async () => {
    await mkdir(join(room.path, 'photos'));
    await writeFile(join(room.path, 'photos/me.jpg'), 'x');
    const ran = await run(['versions', 'tune.abc', '--out', 'photos'], room.path);
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/did not put there/);
    expect(await readdir(join(room.path, 'photos'))).toEqual(['me.jpg']);
  });
  test('--marks writes fingers and bows, --slurs the plain version in a style', async () => {
    const marked = await run(['versions', 'tune.abc', '--marks', 'all'], room.path);
    expect(marked.code).toBe(0);
    expect(marked.out).toMatch(/v!\d!/);
    const bare = await run(['versions', 'tune.abc', '--slurs', 'on-the-beat'], room.path);
    expect(bare.out).not.toMatch(/!\d!/);
    expect(bare.out.split(/^X:/m)[2]).toContain('(');
  });
  test('the report lists stay-downs, awkward places and bow repairs of each version', async () => {
    const ran = await run(['versions', 'tune.abc', '--json'], room.path);
    const { hands } = JSON.parse(ran.out).tunes[0].report;
    expect(Object.keys(hands)).toEqual(['bones', 'plain', 'full']);
    expect(hands.plain.bowRepairs[0]).toMatchObject({ kind: 'slur', reason: expect.stringMatching(/bar 1/) });
  });
  test('--json is one document with texts and reports', async () => {
    const ran = await run(['versions', 'tune.abc', '--json'], room.path);
    const { tunes } = JSON.parse(ran.out);
    expect(tunes).toHaveLength(1);
    expect(tunes[0].bones).toMatch(/^X:1\n/);
    expect(tunes[0].report.dance).toBe('reel');
  });
  test('(regression) --json tells what is wrong with the file inside its one document', async () => {
    for (const name of ['wrong.abc', 'nothing.abc']) {
      const ran = await run(['versions', name, '--json'], room.path);
      expect(ran).toMatchObject({ code: 1, err: '' });
      expect(JSON.parse(ran.out).diagnostics).toEqual(
        expect.arrayContaining([expect.objectContaining({ severity: 'error' })]),
      );
    }
  });
  test('(regression) a title that ends in a number never takes the folder of another tune', async () => {
    const again = TUNE.replace('The Kettle Lid', 'The Kettle Lid 2');
    await writeFile(join(room.path, 'book.abc'), `${TUNE}\n${TUNE}\n${again}`);
    const ran = await run(['versions', 'book.abc', '--json'], room.path);
    expect(JSON.parse(ran.out).tunes.map((t: { folder: string }) => t.folder)).toEqual([
      '1-the-kettle-lid',
      '1-the-kettle-lid-2',
      '1-the-kettle-lid-2-2',
    ]);
  });
  test('(regression) no tune with a note: 1, and no folder is made', async () => {
    await writeFile(join(room.path, 'silent.abc'), 'X:1\nT:Silence\nM:4/4\nK:G\nz8|\n');
    const ran = await run(['versions', 'silent.abc', '--out', 'out'], room.path);
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/one tune has no notes/);
    expect(await readdir(room.path)).not.toContain('out');
  });
  test('a tune with an error gives its versions all the same, and 1', async () => {
    const ran = await run(['versions', 'wrong.abc', '--out', 'out'], room.path);
    expect(ran.code).toBe(1);
    expect(await readFile(join(room.path, 'out/1-broken/bones.abc'), 'utf8')).toMatch(/^X:1/);
  });
});
