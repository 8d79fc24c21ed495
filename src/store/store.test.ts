import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { lstat, mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { inspectTarget, readTextFile, stageFolder } from './index.ts';
import { writeWhole } from './writeWhole.ts';

let room: string;
beforeEach(async () => {
  room = await mkdtemp(join(tmpdir(), 'tuneladder-store-'));
});
afterEach(() => rm(room, { recursive: true, force: true }));

const write = async (name: string, content: string | Uint8Array): Promise<string> => {
  await writeFile(join(room, name), content);
  return join(room, name);
};

describe('a text file that a user named', () => {
  test.each([
    ['plain UTF-8', 'X:1\n', 'X:1\n'],
    ['a byte order mark', '\ufeffX:1\n', 'X:1\n'],
    ['UTF-16', Buffer.from('\ufeffX:1\nT:Cà\n', 'utf16le'), 'X:1\nT:Cà\n'],
    [
      'Latin-1 that says so',
      Buffer.from('%%abc-charset iso-8859-1\nT:C\xe0\n', 'latin1'),
      '%%abc-charset iso-8859-1\nT:Cà\n',
    ],
  ])('with %s is read', async (_, content, text) => {
    expect(await readTextFile(await write('a.abc', content))).toEqual({ kind: 'text', text });
  });
  test.each([
    ['empty', '', /empty/],
    ['binary', new Uint8Array([0x50, 0x4b, 3, 4, 0, 0]), /no text file/],
    ['Latin-1 that does not say so', Buffer.from('X:1\nT:C\xe0\n', 'latin1'), /line 2 is not UTF-8/],
    ['too large', 'x'.repeat(5_000_001), /at most 5 MB/],
  ])('that is %s is a problem with a remedy', async (_, content, message) => {
    const file = await readTextFile(await write('a.abc', content));
    expect(file.kind).toBe('problem');
    expect(file.kind === 'problem' && file.message).toMatch(message);
  });
  test.skipIf(!existsSync('/dev/zero'))('(regression) that never ends is too large', async () => {
    expect(await readTextFile('/dev/zero')).toMatchObject({ message: expect.stringMatching(/at most 5 MB/) });
  });
  test('that is missing or a folder is said', async () => {
    expect(await readTextFile(join(room, 'no.abc'))).toEqual({
      kind: 'problem',
      message: 'there is no such file.',
    });
    expect((await readTextFile(room)).kind).toBe('problem');
  });
});

describe('replacing a folder', () => {
  const ours = JSON.stringify({ format: 'ours' });
  const target = (): string => join(room, 'out');
  const leftovers = async (): Promise<readonly string[]> =>
    (await readdir(room)).filter((n) => n.startsWith('.'));

  test('a missing or empty folder is free, our own is ours, any other is refused', async () => {
    expect((await inspectTarget(target(), 'ours')).kind).toBe('free');
    await mkdir(target());
    expect((await inspectTarget(target(), 'ours')).kind).toBe('free');
    await writeFile(join(target(), 'holiday.jpg'), 'x');
    expect((await inspectTarget(target(), 'ours')).kind).toBe('refused');
    await writeFile(join(target(), 'manifest.json'), ours);
    expect((await inspectTarget(target(), 'ours')).kind).toBe('ours');
    expect((await inspectTarget(target(), 'another')).kind).toBe('refused');
    expect((await inspectTarget(await write('file', 'x'), 'ours')).kind).toBe('refused');
  });
  test('swaps old for new and keeps files that are not ours', async () => {
    await mkdir(join(target(), 'sub'), { recursive: true });
    await writeFile(join(target(), 'old.txt'), 'old');
    await writeFile(join(target(), 'sub/mine.txt'), 'mine');
    const staging = await stageFolder(target());
    await writeFile(join(staging.path, 'new.txt'), 'new');
    await staging.land((path) => path === 'old.txt');
    expect((await readdir(target())).sort()).toEqual(['new.txt', 'sub']);
    expect(await readFile(join(target(), 'sub/mine.txt'), 'utf8')).toBe('mine');
    expect(await leftovers()).toEqual([]);
  });
  test('discarding leaves the old folder and nothing beside it', async () => {
    await mkdir(target());
    await writeFile(join(target(), 'old.txt'), 'old');
    const staging = await stageFolder(target());
    await writeFile(join(staging.path, 'new.txt'), 'new');
    await staging.discard();
    expect(await readdir(target())).toEqual(['old.txt']);
    expect(await leftovers()).toEqual([]);
  });
  test('what a killed build left is cleared, what a living one makes is not', async () => {
    await mkdir(join(room, '.out.building-999999999-abcdef12'));
    await mkdir(join(room, `.out.building-${process.pid}-abcdef12`));
    const staging = await stageFolder(target());
    const names = await leftovers();
    expect(names).toContain(`.out.building-${process.pid}-abcdef12`);
    expect(names.some((n) => n.includes('999999999'))).toBe(false);
    await staging.discard();
  });
  test('(regression) the old folder that a build killed between its two renames had moved aside is put back', async () => {
    await mkdir(join(room, '.out.building-999999999-abcdef12'));
    await mkdir(join(room, '.out.building-former-999999999-abcdef12'));
    await writeFile(join(room, '.out.building-former-999999999-abcdef12/manifest.json'), ours);
    expect(await inspectTarget(target(), 'ours')).toMatchObject({ kind: 'ours' });
    expect(await leftovers()).toEqual([]);
  });
  test('of a build killed after it had landed, the old folder goes', async () => {
    await mkdir(target());
    await writeFile(join(target(), 'manifest.json'), ours);
    await mkdir(join(room, '.out.building-former-999999999-abcdef12'));
    await (await stageFolder(target())).discard();
    expect(await readdir(target())).toEqual(['manifest.json']);
    expect(await leftovers()).toEqual([]);
  });
  test('where something else has come to the target since, nothing is thrown away', async () => {
    const both = ['.out.building-999999999-abcdef12', '.out.building-former-999999999-abcdef12'];
    for (const name of [...both, 'out']) await mkdir(join(room, name));
    await inspectTarget(target(), 'ours');
    expect(await leftovers()).toEqual(both);
  });
  test("(regression) somebody's file whose name is needed now keeps its content under another name", async () => {
    await mkdir(join(target(), 'tracks'), { recursive: true });
    await writeFile(join(target(), 'tracks/11.mp3'), 'mine');
    await writeFile(join(target(), 'same.txt'), 'same');
    await mkdir(join(target(), 'empty'));
    const staging = await stageFolder(target());
    await staging.write('tracks/11.mp3', 'new');
    await staging.write('same.txt', 'same');
    const kept = await staging.land(() => false);
    expect(kept).toEqual([{ path: 'tracks/11.mp3', keptAs: 'tracks/11 (kept).mp3' }]);
    expect(await readFile(join(target(), 'tracks/11.mp3'), 'utf8')).toBe('new');
    expect(await readFile(join(target(), 'tracks/11 (kept).mp3'), 'utf8')).toBe('mine');
    expect((await readdir(target())).sort()).toEqual(['empty', 'same.txt', 'tracks']);
  });
  test("when somebody's file cannot be carried over, the old folder stays as it was", async ({ skip }) => {
    await mkdir(target());
    await writeFile(join(target(), 'old.txt'), 'old');
    skip(spawnSync('mkfifo', [join(target(), 'pipe')]).status !== 0, 'no mkfifo here');
    const staging = await stageFolder(target());
    await staging.write('new.txt', 'new');
    await expect(staging.land((path) => path === 'old.txt')).rejects.toThrow(
      /cannot put the new folder at .*left as it was/s,
    );
    expect((await readdir(target())).sort()).toEqual(['old.txt', 'pipe']);
    expect(await leftovers()).toEqual([]);
  });
  test('(regression) a link to a folder stays a link, and its goal is replaced', async () => {
    await mkdir(join(room, 'goal'));
    await symlink('goal', target());
    const staging = await stageFolder(target());
    await staging.write('new.txt', 'new');
    await staging.land(() => false);
    expect((await lstat(target())).isSymbolicLink()).toBe(true);
    expect(await readdir(join(room, 'goal'))).toEqual(['new.txt']);
    await symlink('nowhere', join(room, 'dead'));
    expect(await inspectTarget(join(room, 'dead'), 'ours')).toMatchObject({ kind: 'refused' });
  });
  test('(regression) the folder one stands in, or one around it, is refused', async () => {
    for (const path of ['.', '..']) {
      const found = await inspectTarget(path, 'ours');
      expect(found.kind === 'refused' && found.message).toMatch(/from which you started/);
    }
  });
  test('(regression) parents that were made for a build which was given up go with it', async () => {
    const staging = await stageFolder(join(room, 'a/b/out'));
    await staging.write('x', 'x');
    await staging.discard();
    expect(await readdir(room)).toEqual([]);
  });
  test('a place that cannot be written is named', async () => {
    const file = await write('file', 'x');
    await expect(stageFolder(join(file, 'out'))).rejects.toThrow(
      /cannot make .*a part of that path is a file/s,
    );
    await expect(writeWhole(join(file, 'a.txt'), 'x')).rejects.toThrow(/cannot write/);
  });
});
