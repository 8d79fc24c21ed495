import { format, lint, types, unused } from './outside.mjs';

/**
 * The gates beside the tests, in the order of `npm run check`. Each answers for a folder built like this house:
 * no complaint, or what is wrong where. `skipped` says why a gate had nothing to judge. Gates that are built on a package
 * are loaded when they run: before that, the package may not be installed yet.
 * @type {{name: string, run: (root: string) => Promise<{complaints: string[], skipped?: string}>}[]}
 */
export const gates = [
  { name: 'format', run: format },
  { name: 'lint', run: lint },
  { name: 'types', run: types },
  { name: 'layers', run: async (root) => (await import('./layers.mjs')).run(root) },
  { name: 'docs', run: async (root) => (await import('./writing.mjs')).run(root) },
  { name: 'unused', run: unused },
];
