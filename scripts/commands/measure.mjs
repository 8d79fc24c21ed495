import { runTables } from '../measuring/runTables.mjs';

/** `npm run measure [-- NAME…]`: the quality tables. */
export const run = (argv) => runTables('measure', argv);
