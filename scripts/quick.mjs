import { runCommand } from './entry.mjs';
import { TO_CHECK } from './setup/nodeVersion.mjs';

runCommand(() => import('./commands/quick.mjs'), TO_CHECK);
