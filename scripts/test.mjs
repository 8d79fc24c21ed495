import { runCommand } from './entry.mjs';

runCommand(() => import('./commands/test.mjs'));
