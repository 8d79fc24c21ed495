import { runTables } from '../measuring/runTables.mjs';

/** `npm run bench [-- NAME…]`: the speed tables. */
export const run = (argv) => runTables('bench', argv);
