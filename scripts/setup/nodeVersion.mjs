// This file and those that import it statically must parse on Node 14, so that an old Node gets a sentence and
// not a syntax error: no optional chaining, no node: imports, no top-level await.

/** The oldest Node that runs Tuneladder: major and minor number. */
const OLDEST = [20, 12];

/**
 * What to tell somebody whose Node is too old; null when it will do.
 * @param {string} version - as in `process.versions.node`, "20.12.0"
 */
export const nodeComplaint = (version) => {
  const [major, minor] = version.split('.').map(Number);
  if (major > OLDEST[0] || (major === OLDEST[0] && minor >= OLDEST[1])) return null;
  return (
    `Tuneladder needs Node ${OLDEST.join('.')} or newer, and this is Node ${version}: ` +
    'install a newer one from nodejs.org, then run the same command again.'
  );
};
