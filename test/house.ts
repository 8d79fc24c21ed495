import { cpSync, mkdirSync, mkdtempSync, readdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder of this checkout. */
export const ROOT = fileURLToPath(new URL('..', import.meta.url));

/**
 * A small house like ours in a temporary folder: our settings and packages, its own files.
 * @param files - contents by path from the house's folder
 */
export const houseOf = (files: Readonly<Record<string, string>>): string => {
  const house = mkdtempSync(join(tmpdir(), 'tuneladder-house-'));
  for (const name of readdirSync(ROOT)) {
    if (/^(tsconfig.*|biome|knip|package|package-lock)\.json$|^\.gitignore$|^vitest\.config\.ts$/.test(name))
      cpSync(join(ROOT, name), join(house, name));
  }
  symlinkSync(join(ROOT, 'node_modules'), join(house, 'node_modules'), 'dir');
  for (const [name, text] of Object.entries(files)) write(house, name, text);
  return house;
};

/** Writes a file, its folder too. */
export const write = (house: string, name: string, text: string): void => {
  mkdirSync(dirname(join(house, name)), { recursive: true });
  writeFileSync(join(house, name), text);
};

const LAYERS = `\
export const layers = {
  core: { kind: 'pure', imports: [] },
  music: { kind: 'pure', imports: ['core'] },
  score: { kind: 'pure', imports: ['core', 'music'] },
  engrave: { kind: 'neutral', imports: ['score'], packages: ['verovio'] },
  cli: { kind: 'node', imports: ['core'], packages: ['zod'] },
  engine: { kind: 'node', imports: ['core'] },
};
`;

/** The files of a small house that keeps every rule. */
export const SOUND = {
  'layers.mjs': LAYERS,
  'src/core/index.ts': "export { half } from './half.ts';\n",
  'src/core/half.ts': '/** Half of a number. */\nexport const half = (x: number): number => x / 2;\n',
  'src/core/half.test.ts':
    "import { expect, test } from 'vitest';\nimport { half } from './half.ts';\n\ntest('half', () => expect(half(4)).toBe(2));\n",
  'src/cli/main.ts':
    "import { readFileSync } from 'node:fs';\nimport { z } from 'zod';\nimport { half } from '../core/index.ts';\n\nconst size = z.number().parse(readFileSync(0).length);\n\n/** Half of what stands on standard input. */\nexport const main = (): number => half(size);\n",
  'src/engine/index.ts': "export { half } from '../core/index.ts';\n",
};
