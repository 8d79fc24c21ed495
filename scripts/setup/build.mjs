import { existsSync, readdirSync, readFileSync, rmdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { contentHash, filesUnder } from './contentHash.mjs';
import { bundlePages, hasPage, PAGE_BUNDLE, WORKBENCH } from './pageBundle.mjs';
import { runNode } from './programs.mjs';

const isTest = (name) => /\.test\.tsx?$/.test(name) || name.split('/').includes('testing');

/** The source files that the build is made of, relative to src/. */
const sourcesOf = (root) => filesUnder(join(root, 'src')).filter((name) => !isTest(name));

const stampOf = (root) => join(root, 'dist', '.stamp');

/** One hash over everything that decides what the build is. */
const sourceHash = (root) => {
  const settings = readdirSync(root).filter((name) => /^tsconfig.*\.json$/.test(name));
  const sources = sourcesOf(root).map((name) => `src/${name}`);
  return contentHash(root, [...sources, ...settings.sort(), 'package-lock.json']);
};

/** The compiler's own records: a build by hand, without this script, changes them. */
const recordsOf = (root) =>
  existsSync(join(root, 'dist'))
    ? readdirSync(join(root, 'dist')).filter((name) => name.endsWith('.tsbuildinfo'))
    : [];

const stampText = (root, sources) =>
  `${sources}\n${contentHash(join(root, 'dist'), [...recordsOf(root), PAGE_BUNDLE, `${WORKBENCH}/index.html`])}\n`;

/** A checkout has sources to build from; an installed package has only its build (npm never ships the lock file). */
export const isCheckout = (root) =>
  ['src', 'tsconfig.json', 'package-lock.json'].every((name) => existsSync(join(root, name)));

/** Whether dist/ was built from exactly these sources. */
export const buildIsFresh = (root) =>
  existsSync(stampOf(root)) && readFileSync(stampOf(root), 'utf8') === stampText(root, sourceHash(root));

/**
 * Compiles src/ into dist/, bundles the pages, and removes from dist/ what has no source any more.
 * @returns {Promise<string | null>} null when it went well, else what the compiler said
 */
export const build = async (root) => {
  removeOrphans(root);
  if (missesOutput(root)) removeRecords(root);
  rmSync(stampOf(root), { force: true });
  // Before compiling: a file saved meanwhile makes the next run build again.
  const sources = sourceHash(root);
  const compiler = join(root, 'node_modules', 'typescript', 'bin', 'tsc');
  const { code, output } = await runNode([compiler, '-b', 'tsconfig.json'], { cwd: root });
  if (code !== 0) return output.trim();
  const complaint = hasPage(root) ? await bundlePages(root) : null;
  if (complaint !== null) return complaint;
  writeFileSync(stampOf(root), stampText(root, sources));
  return null;
};

const removeOrphans = (root) => {
  const dist = join(root, 'dist');
  const stems = new Set(sourcesOf(root).map((name) => name.replace(/\.tsx?$/, '')));
  for (const name of filesUnder(dist)) {
    const stem = /^(.*?)(\.d\.ts|\.js|\.js\.map)$/.exec(name)?.[1];
    if (stem === undefined || stems.has(stem)) continue;
    rmSync(join(dist, name));
    removeEmpty(dirname(join(dist, name)), dist);
  }
};

const removeEmpty = (folder, until) => {
  if (folder === until || readdirSync(folder).length > 0) return;
  rmdirSync(folder);
  removeEmpty(dirname(folder), until);
};

/** The compiler trusts its record and wouldn't write a file again that somebody deleted. */
const missesOutput = (root) => {
  const built = new Set(filesUnder(join(root, 'dist')));
  const recorded = recordsOf(root).flatMap((name) => {
    const { fileNames = [] } = JSON.parse(readFileSync(join(root, 'dist', name), 'utf8'));
    return fileNames
      .map((file) => /^\.\.\/src\/(.*)\.tsx?$/.exec(file)?.[1])
      .filter((stem) => stem !== undefined);
  });
  return recorded.some(
    (stem) =>
      ['ts', 'tsx'].some((end) => existsSync(join(root, 'src', `${stem}.${end}`))) &&
      !built.has(`${stem}.js`),
  );
};

const removeRecords = (root) => {
  for (const name of recordsOf(root)) rmSync(join(root, 'dist', name));
};
