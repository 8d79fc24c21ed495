import { runCommand } from './entry.mjs';

runCommand(() => import('./commands/measure.mjs'));
