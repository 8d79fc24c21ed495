import { runCommand } from './entry.mjs';

runCommand(() => import('./commands/gate.mjs'));
