import { runCommand } from './entry.mjs';

runCommand(() => import('./commands/check.mjs'));
