import { runCommand } from './entry.mjs';

runCommand(() => import('./commands/bench.mjs'));
