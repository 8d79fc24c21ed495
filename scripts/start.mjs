import { runCommand } from './entry.mjs';

runCommand(() => import('./commands/start.mjs'));
