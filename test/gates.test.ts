import { spawnSync } from 'node:child_process';
import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { houseOf, ROOT, SOUND } from './house.ts';

// Every gate is run on a small house that keeps the rules, and on one that breaks each of them.

const houses: string[] = [];
const house = (files: Readonly<Record<string, string>>): string => {
  const folder = houseOf(files);
  houses.push(folder);
  return folder;
};
afterAll(() => {
  for (const folder of houses) rmSync(folder, { recursive: true, force: true });
});

const gate = (name: string, folder: string): { readonly code: number | null; readonly said: string } => {
  const run = spawnSync(process.execPath, [join(ROOT, 'scripts', 'gate.mjs'), name, folder], {
    encoding: 'utf8',
  });
  return { code: run.status, said: run.stdout + run.stderr };
};

describe('a sound house', () => {
  const sound = house(SOUND);
  test.each(['format', 'lint', 'types', 'layers', 'docs'])('passes %s', (name) => {
    expect(gate(name, sound)).toEqual({ code: 0, said: '' });
  });
});

describe('layers', () => {
  const broken = house({
    ...SOUND,
    'src/core/up.ts': "import { third } from '../music/index.ts';\n\nexport const up = third;\n",
    'src/core/typeUp.ts': "import type { Key } from '../score/index.ts';\n\nexport type Up = Key;\n",
    'src/music/index.ts': "export { third } from './third.ts';\n",
    'src/music/third.ts': "import { half } from '../core/half.ts';\n\nexport const third = half;\n",
    'src/music/test.ts': "import { sample } from './testing/sample.ts';\n\nexport const uses = sample;\n",
    'src/music/testing/sample.ts': 'export const sample = 1;\n',
    'src/music/low.test.ts': "import type { Key } from '../score/index.ts';\n\nexport type Low = Key;\n",
    'src/music/seesTheFloorAbove.test.ts':
      "import { half } from '../core/half.ts';\nimport { test } from 'vitest';\n\ntest('x', () => half(1));\n",
    'src/score/index.ts': "export type { Key } from './key.ts';\n",
    'src/score/key.ts': "import type { Tune } from './tune.ts';\n\nexport type Key = Tune | 'D';\n",
    'src/score/tune.ts':
      "import type { Key } from './key.ts';\n\nexport type Tune = { readonly key: Key };\n",
    'src/score/disk.ts': "import { readFileSync } from 'node:fs';\n\nexport const read = readFileSync;\n",
    'src/score/outside.ts': "import { layers } from '../../layers.mjs';\n\nexport const table = layers;\n",
    'src/engrave/draw.ts':
      "import verovio from 'verovio';\nimport { z } from 'zod';\n\nexport const draw = [verovio, z];\n",
    'src/engrave/typos.ts': "import { gone } from './gone.ts';\n\nexport const typo = gone;\n",
    'src/attic/old.ts': 'export const old = 1;\n',
  });
  const { code, said } = gate('layers', broken);

  test('fail', () => expect(code).toBe(1));
  test.each([
    ['a room that is not in the table', 'room-not-in-table: src/attic '],
    ['an import upwards', 'core-imports: src/core/up.ts → src/music/index.ts'],
    ['a type-only import upwards', 'core-imports: src/core/typeUp.ts → src/score/index.ts'],
    ['an import past the index', 'past-the-index: src/music/third.ts → src/core/half.ts'],
    ['a cycle of types', 'cycle: src/score/key.ts → src/score/tune.ts → src/score/key.ts'],
    ['Node in a pure room', 'score-is-pure-no-node: src/score/disk.ts → fs'],
    ['a package of another room', 'engrave-packages: src/engrave/draw.ts → '],
    ['a file that does not exist', 'engrave-unknown-import: src/engrave/typos.ts → ./gone.ts'],
    ['a file outside the rooms', 'out-of-the-house: src/score/outside.ts → layers.mjs'],
    ['test code in the program', 'test-code-in-the-program: src/music/test.ts → src/music/testing/sample.ts'],
    ['a test that looks upwards', 'music-tests-look-down-only: src/music/low.test.ts → src/score/index.ts'],
  ])('name %s', (_, complaint) => expect(said).toContain(complaint));
  test('let a test look into the rooms above it in the table, and the packages in that the table allows', () => {
    expect(said).not.toContain('seesTheFloorAbove');
    expect(said).not.toMatch(/verovio/);
    expect(said).not.toContain('src/cli');
  });
});

describe('docs', () => {
  const manyLines = (count: number, line: string): string => `${line}\n`.repeat(count);
  const broken = house({
    ...SOUND,
    'src/music/bare.ts':
      'export const bare = 1;\n// a remark is no doc comment\nexport type Bare = number;\n',
    'src/music/listed.ts': '/** Said. */\nconst said = 1;\nconst listed = 2;\nexport { said, listed };\n',
    'src/music/emptyComment.ts': '/** */\nexport interface Hollow {\n  readonly x: 1;\n}\n',
    'src/music/index.ts': "export { bare } from './bare.ts';\nexport type { Bare } from './bare.ts';\n",
    'src/music/long.ts': `// a long file\n${manyLines(400, '// line')}`,
    'src/music/data.ts': manyLines(500, '// a table may be long'),
    'src/music/longFunction.ts': `/** Long. */\nexport const long = (): void => {\n${manyLines(80, '  void 0;')}};\n`,
    'src/music/noteHelpers.ts': '/** Named for a drawer. */\nexport const x = 1;\n',
    'src/music/utils/pitch.ts': '/** In a drawer. */\nexport const y = 1;\n',
    'src/music/dice.ts':
      '/** Chance and clock. */\nexport const dice = (): number => Math.random() + Date.now() + new Date().getTime();\n',
    'src/cli/free.ts': 'export const outerRoomsMayLeaveItOut = 1;\n',
  });
  const { code, said } = gate('docs', broken);

  test('fail', () => expect(code).toBe(1));
  test.each([
    ['a value without a comment', 'no-comment: src/music/bare.ts:1 exports bare '],
    ['a type with only a remark', 'no-comment: src/music/bare.ts:3 exports Bare '],
    ['a listed export', 'no-comment: src/music/listed.ts:3 exports listed '],
    ['an empty comment', 'no-comment: src/music/emptyComment.ts:2 exports Hollow '],
    ['a long file', 'long-file: src/music/long.ts has 401 lines'],
    ['a long function', 'long-function: src/music/longFunction.ts:2 has 82 lines'],
    ['a drawer in a file name', 'drawer-name: src/music/noteHelpers.ts '],
    ['a drawer as a folder', 'drawer-name: src/music/utils/pitch.ts '],
    ['chance', 'impure: src/music/dice.ts:2 uses Math.random'],
    ['the clock', 'impure: src/music/dice.ts:2 uses the clock'],
    ['the clock by its method', 'impure: src/music/dice.ts:2 uses Date.now'],
  ])('name %s', (_, complaint) => expect(said).toContain(complaint));
  test('say no more than that', () => expect(said.trim().split('\n')).toHaveLength(11));
});

describe('unused', () => {
  const broken = house({
    ...SOUND,
    'src/core/orphan.ts': '/** Nobody imports this. */\nexport const orphan = 1;\n',
    'src/core/half.ts':
      '/** Half of a number. */\nexport const half = (x: number): number => x / 2;\n/** Not asked for. */\nexport const third = (x: number): number => x / 3;\n/** Asked for by the index only. */\nexport const quarter = (x: number): number => x / 4;\n',
    'src/core/index.ts': "export { half, quarter } from './half.ts';\n",
  });
  const { code, said } = gate('unused', broken);

  test('fails', () => expect(code).toBe(1));
  test.each([
    ['a file', /Unused files[\s\S]*src\/core\/orphan\.ts/],
    ['an export', /Unused exports[\s\S]*third\s.*src\/core\/half\.ts/],
    ['an export of an index', /Unused exports[\s\S]*quarter\s.*src\/core\/index\.ts/],
    ['a package', /Unused dependencies[\s\S]*pdfkit/],
  ])('names %s', (_, complaint) => expect(said).toMatch(complaint));
  test('says so where there is nothing to start from', () => {
    const { 'src/engine/index.ts': _, ...rest } = SOUND;
    expect(gate('unused', house(rest))).toEqual({
      code: 0,
      said: 'unused: skipped: there is no src/engine/index.ts to start from\n',
    });
  });
});

describe('format, lint and types', () => {
  const broken = house({
    ...SOUND,
    'src/core/crooked.ts': '/** Crooked. */\nexport const crooked   =  1\n',
    'src/core/loose.ts': '/** Loose. */\nexport const loose = (x: any): unknown => x;\n',
    'src/core/noisy.ts': "/** Noisy. */\nexport const noisy = (): void => console.log('x');\n",
    'src/core/wrong.ts': "/** Wrong. */\nexport const wrong: number = 'x';\n",
    'src/core/wrong.test.ts': "import { half } from './half.ts';\n\nhalf('x');\n",
  });
  test.each([
    ['format', 'src/core/crooked.ts format'],
    ['lint', 'noExplicitAny'],
    ['lint', 'noConsole'],
    ['types', "src/core/noisy.ts(2,34): error TS2584: Cannot find name 'console'"],
    ['types', 'src/core/wrong.ts(2,14): error TS2322'],
    ['types', 'src/core/wrong.test.ts(3,6): error TS2345'],
  ])('%s fails and names %s', (name, complaint) => {
    const { code, said } = gate(name, broken);
    expect(code).toBe(1);
    expect(said).toContain(complaint);
  });
});
