import { runCommand } from './entry.mjs';

runCommand(() => import('./commands/build.mjs'));
