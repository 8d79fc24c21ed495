import { existsSync, readdirSync } from 'node:fs';
import { register } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureBuilt } from '../setup/ensureReady.mjs';
import { ROOT } from '../setup/places.mjs';
import { Stop } from '../setup/stop.mjs';
import { markdownOf } from './markdownTable.mjs';

/**
 * Runs the files of measure/ or bench/ that export a `table`, prints their tables and how many rows hold.
 *
 * A row that falls short is a finding, not a failure: the exit code is 1 only when a file couldn't finish.
 * @param {'measure' | 'bench'} folder
 * @param {string[]} names - which files, without ending; all when empty
 */
export const runTables = async (folder, names) => {
  const errors = await ensureBuilt({ say: console.error, install: true });
  // The compiler writes what it can even so; a table of a room that compiles is worth having.
  if (errors !== null)
    console.error(`${errors}\nThe sources do not all compile: tables that need those rooms may fail.`);
  process.setSourceMapsEnabled(true);
  register('./onTheBuild.mjs', import.meta.url);
  const rows = [];
  let broken = 0;
  let skipped = 0;
  for (const name of chosen(folder, names)) {
    try {
      const { table } = await import(pathToFileURL(join(ROOT, folder, `${name}.ts`)).href);
      if (table === undefined) continue; // shared by the others
      const found = await table();
      console.log(markdownOf(found));
      rows.push(...found.rows);
      if (found.skipped !== undefined) skipped += 1;
    } catch (error) {
      broken += 1;
      console.error(`${folder}/${name}.ts could not finish:`, error);
    }
  }
  const count = (holds) => rows.filter((row) => row.holds === holds).length;
  console.log(
    `Rows: ${count(true)} hold, ${count(false)} fall short, ${count(null)} only reported` +
      `${skipped > 0 ? `; tables skipped: ${skipped}` : ''}${broken > 0 ? `; files that could not finish: ${broken}` : ''}`,
  );
  return broken > 0 ? 1 : 0;
};

const chosen = (folder, names) => {
  const path = join(ROOT, folder);
  const all = (existsSync(path) ? readdirSync(path) : [])
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.test.ts') && name !== 'table.ts')
    .map((name) => name.replace(/\.ts$/, ''))
    .sort();
  const unknown = names.find((name) => !all.includes(name));
  if (unknown !== undefined)
    throw new Stop(`There is no ${folder}/${unknown}.ts; there are: ${all.join(', ') || 'none'}.`);
  return names.length > 0 ? names : all;
};
