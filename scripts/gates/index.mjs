import * as layers from './layers.mjs';
import { format, lint, types, unused } from './outside.mjs';
import * as writing from './writing.mjs';

/**
 * The gates beside the tests, in the order of `npm run check`. Each answers for a folder built like this house:
 * no complaint, or what is wrong where. `skipped` says why a gate had nothing to judge.
 * @type {{name: string, run: (root: string) => Promise<{complaints: string[], skipped?: string}>}[]}
 */
export const gates = [
  { name: 'format', run: format },
  { name: 'lint', run: lint },
  { name: 'types', run: types },
  { name: 'layers', run: layers.run },
  { name: 'docs', run: writing.run },
  { name: 'unused', run: unused },
];
