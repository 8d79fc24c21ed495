import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { contentHash, filesUnder } from '../setup/contentHash.mjs';
import { ensureReady } from '../setup/ensureReady.mjs';
import { ROOT } from '../setup/places.mjs';
import { runNode } from '../setup/programs.mjs';
import { Stop } from '../setup/stop.mjs';

/** The demo lesson: the reel. */
const LESSON = 'demo/lessons/the-lantern-at-hollin-quay';

/** `npm start`: installs, builds, makes the demo lesson's pack and says where it lies and what is in it. */
export const run = async (argv) => {
  const out = outOf(argv);
  await ensureReady();
  if (!existsSync(join(ROOT, LESSON, 'lesson.json')))
    throw new Stop(`Packages and build are ready, but the demo lesson ${LESSON} is missing.`);
  const state = stateOf(out);
  if (packIsThere(out, state)) {
    console.log(`The pack of ${LESSON} is there already, made from the same lesson by the same program:`);
    list(out);
  } else {
    console.log(`Making the pack of the demo lesson ${LESSON}.`);
    const { code } = await runNode([join('bin', 'tuneladder.mjs'), 'pack', LESSON, '--out', out], {
      cwd: ROOT,
      show: true,
    });
    if (code !== 0) {
      console.error(`The pack was not made, or not all of it (exit code ${code}): the reason stands above.`);
      return code;
    }
    writeFileSync(stampPath(), `${state}\n${manifestHash(out)}\n`);
  }
  console.log(`\nThe demo pack lies in ${out}`);
  return 0;
};

const outOf = (argv) => {
  if (argv.length === 0) return join(ROOT, 'pack-out', 'demo');
  const [option, folder] = argv;
  if (argv.length !== 2 || option !== '--out') throw new Stop('Usage: npm start [-- --out FOLDER]');
  return resolve(process.env.INIT_CWD ?? process.cwd(), folder);
};

const stampPath = () => join(ROOT, 'dist', '.demo-stamp');

/** Changes when the program, its assets, the lesson or the target does. */
const stateOf = (out) => {
  const parts = [LESSON, 'assets'].flatMap((folder) =>
    filesUnder(join(ROOT, folder)).map((name) => `${folder}/${name}`),
  );
  return `${contentHash(ROOT, ['dist/.stamp', ...parts])} ${out}`;
};

const manifestHash = (out) => contentHash(out, ['manifest.json']);

/** Whether the pack at `out` is the one that was made from this state, and none of its files is gone. */
const packIsThere = (out, state) =>
  existsSync(join(out, 'manifest.json')) &&
  existsSync(stampPath()) &&
  readFileSync(stampPath(), 'utf8') === `${state}\n${manifestHash(out)}\n` &&
  filesOf(out).every(({ path }) => existsSync(join(out, path)));

/** The files that the pack's manifest lists, each with what it is. */
const filesOf = (out) => JSON.parse(readFileSync(join(out, 'manifest.json'), 'utf8')).files ?? [];

/** What is in the pack, as the command that makes it says it. */
const list = (out) => {
  const files = filesOf(out);
  const width = Math.max(...files.map(({ path }) => path.length));
  for (const { path, what } of files) console.log(`  ${path.padEnd(width)}  ${what}`);
};
