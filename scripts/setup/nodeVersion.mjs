// This file and those that import it statically must parse on Node 14, so that an old Node gets a sentence and
// not a syntax error: no optional chaining, no node: imports, no top-level await.

/** The oldest Node that runs the program: major and minor number. Any later major will do. */
export const TO_RUN = [[20, 12]];
/** The same for the checks: what vite, rolldown and knip, which the tests stand on, say in their package.json. */
export const TO_CHECK = [
  [20, 19],
  [22, 12],
];

/**
 * What to tell somebody whose Node is too old; null when it will do.
 * @param {string} version - as in `process.versions.node`, "20.12.0"
 * @param {number[][]} oldest - `TO_RUN` or `TO_CHECK`
 */
export const nodeComplaint = (version, oldest) => {
  const [major, minor] = version.split('.').map(Number);
  const newest = oldest[oldest.length - 1][0];
  if (major > newest || oldest.some((one) => major === one[0] && minor >= one[1])) return null;
  const [first, ...others] = oldest.map((one) => one.join('.'));
  const wanted = [`${first} or newer`].concat(others.map((one) => `from ${one} on`)).join(', or ');
  return (
    `${oldest === TO_RUN ? 'Tuneladder needs' : 'The checks of Tuneladder need'} Node ${wanted}, and this is Node ` +
    `${version}: install a newer one from nodejs.org, then run the same command again.`
  );
};
