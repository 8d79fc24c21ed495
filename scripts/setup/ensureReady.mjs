import { join } from 'node:path';
import { build, buildIsFresh } from './build.mjs';
import { withLock } from './lock.mjs';
import { installPackages, packagesAreInstalled } from './packages.mjs';
import { ROOT } from './places.mjs';
import { Stop } from './stop.mjs';

const secondsSince = (start) => `${((performance.now() - start) / 1000).toFixed(1)} s`;

/**
 * Makes the checkout ready to run: packages installed, sources built. Does nothing when nothing has changed.
 * @param {{root?: string, say?: (sentence: string) => void}} options
 * @throws Stop when packages can't be fetched or the sources don't compile
 */
export const ensureReady = async ({ root = ROOT, say = console.log } = {}) => {
  const errors = await ensureBuilt({ root, say, install: true });
  if (errors !== null) throw new Stop(`${errors}\nThe sources do not compile: see the errors above.`);
};

/**
 * Only the packages; the checks compile for themselves, so that an error of the compiler is counted.
 * @param {{root?: string, say?: (sentence: string) => void}} options
 * @throws Stop when packages can't be fetched
 */
export const ensurePackages = async ({ root = ROOT, say = console.log } = {}) => {
  if (packagesAreInstalled(root)) return;
  await whileLocked(root, say, () => install(root, say));
};

/**
 * Like `ensureReady`, but hands back what the compiler said instead of ending.
 * @param {{root?: string, say?: (sentence: string) => void, install: boolean}} options - without `install`, missing
 *   packages end the command
 * @returns {Promise<string | null>} null when the build is fresh now
 */
export const ensureBuilt = async ({ root = ROOT, say = console.log, install: mayInstall }) => {
  if (packagesAreInstalled(root) && buildIsFresh(root)) return null;
  return whileLocked(root, say, async () => {
    if (mayInstall) await install(root, say);
    else if (!packagesAreInstalled(root)) {
      throw new Stop('The packages are not installed: run `npm start` or `npm ci` first.');
    }
    if (buildIsFresh(root)) return null;
    const start = performance.now();
    say('Building: compiling src/ into dist/.');
    const errors = await build(root);
    if (errors === null) say(`Built in ${secondsSince(start)}.`);
    return errors;
  });
};

const whileLocked = (root, say, work) =>
  withLock(
    join(root, 'dist.lock'),
    () => say('Waiting for another run that is installing or building here.'),
    work,
  );

/** Asks again under the lock: the run that was waited for may have done it. */
const install = async (root, say) => {
  if (packagesAreInstalled(root)) return;
  const start = performance.now();
  await installPackages(root, say);
  say(`Installed in ${secondsSince(start)}.`);
};
