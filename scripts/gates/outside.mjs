import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { ensureBuilt } from '../setup/ensureReady.mjs';
import { ROOT } from '../setup/places.mjs';
import { runNode } from '../setup/programs.mjs';

/** Runs a program of our node_modules on a house; what it prints is the complaint when it fails. */
const complaintsOf = async (root, program, args) => {
  const { code, output } = await runNode([join(ROOT, 'node_modules', program), ...args], { cwd: root });
  return { complaints: code === 0 ? [] : [output.trim() || `${program} ended with code ${code}`] };
};

const biome = (root, args) => complaintsOf(root, '@biomejs/biome/bin/biome', args);

/** The format gate: layout and order of imports. */
export const format = (root) => biome(root, ['check', '--linter-enabled=false', '.']);

/** The lint gate: the rules of biome.json; warnings count. */
export const lint = (root) => biome(root, ['lint', '--error-on-warnings', '.']);

/** The types gate: the build, each room with only its own kind's types, then everything with the tests. */
export const types = async (root) => {
  const errors = await ensureBuilt({ root, say: () => {}, install: false });
  const record = join('.cache', 'test.tsbuildinfo');
  const tests = await complaintsOf(root, 'typescript/bin/tsc', [
    '-p',
    'tsconfig.test.json',
    '--incremental',
    '--tsBuildInfoFile',
    record,
  ]);
  return { complaints: [...(errors === null ? [] : [errors]), ...tests.complaints] };
};

/** The unused gate: files, exports and packages that nothing reaches from the ways in that knip.json names. */
export const unused = async (root) => {
  const waysIn = ['src/engine/index.ts', 'src/cli/main.ts'];
  const missing = waysIn.filter((name) => !existsSync(join(root, name)));
  if (missing.length > 0)
    return { complaints: [], skipped: `there is no ${missing.join(' and no ')} to start from` };
  return complaintsOf(root, 'knip/bin/knip.js', ['--no-progress']);
};
