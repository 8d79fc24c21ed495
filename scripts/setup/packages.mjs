import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { contentHash } from './contentHash.mjs';
import { runNode, runProgram } from './programs.mjs';
import { Stop } from './stop.mjs';

const stampOf = (root) => join(root, 'node_modules', '.tuneladder-stamp');

/** Whether the packages of package-lock.json are installed, as this or an earlier run or `npm ci` by hand left them. */
export const packagesAreInstalled = (root) => {
  const wanted = contentHash(root, ['package-lock.json']);
  if (existsSync(stampOf(root))) return readFileSync(stampOf(root), 'utf8') === wanted;
  if (!agreesWithNpm(root)) return false;
  writeFileSync(stampOf(root), wanted);
  return true;
};

/** Whether npm's own list of what it put into node_modules has every package of the lock file in the same version. */
const agreesWithNpm = (root) => {
  const list = join(root, 'node_modules', '.package-lock.json');
  if (!existsSync(list)) return false;
  const installed = JSON.parse(readFileSync(list, 'utf8')).packages;
  const locked = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')).packages;
  return Object.entries(locked).every(
    // Optional packages are those of other systems and may be missing.
    ([path, { version, optional }]) =>
      path === '' || installed[path]?.version === version || (optional && installed[path] === undefined),
  );
};

/** Words of npm that mean: the registry wasn't reached or didn't answer as one. */
const UNREACHABLE =
  /\b(ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ECONNRESET|ETIMEDOUT|ENETUNREACH|EHOSTUNREACH|ERR_SOCKET_TIMEOUT|ENOTCACHED|FETCH_ERROR|E401|E403|E404|E407|E50\d|SELF_SIGNED_CERT_IN_CHAIN|UNABLE_TO_\w+|CERT_\w+)\b/;

/**
 * Installs what package-lock.json names.
 * @param {string} root
 * @param {(sentence: string) => void} say
 * @throws Stop when the packages can't be fetched, with what to do about it
 */
export const installPackages = async (root, say) => {
  say(
    'Installing the packages named in package-lock.json with `npm ci` (needs the network, about a minute).',
  );
  const { code, output } = await npm(
    ['ci', '--no-audit', '--no-fund', '--fetch-retry-mintimeout=2000', '--fetch-retry-maxtimeout=8000'],
    root,
  );
  if (code !== 0) {
    const reason = UNREACHABLE.exec(output)?.[1];
    if (reason !== undefined) {
      throw new Stop(
        `The packages could not be fetched from the npm registry (${reason}): check the network connection and ` +
          '`npm config get registry`, then run the same command again.',
      );
    }
    throw new Stop(
      `${output.trim()}\n\`npm ci\` failed for the reason above: put it right, then run the same command again.`,
    );
  }
  writeFileSync(stampOf(root), contentHash(root, ['package-lock.json']));
};

const npm = (args, root) => {
  // Inside `npm start` this names the very npm that runs us; on Windows a bare `npm` needs the shell.
  const own = process.env.npm_execpath;
  return own?.endsWith('npm-cli.js')
    ? runNode([own, ...args], { cwd: root })
    : runProgram('npm', args, { cwd: root, shell: process.platform === 'win32' });
};
