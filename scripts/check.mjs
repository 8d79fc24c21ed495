import { runCommand } from './entry.mjs';
import { TO_CHECK } from './setup/nodeVersion.mjs';

runCommand(() => import('./commands/check.mjs'), TO_CHECK);
