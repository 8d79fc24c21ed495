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
