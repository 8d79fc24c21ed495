import { runCommand } from './entry.mjs';

runCommand(() => import('./commands/quick.mjs'));
