#!/usr/bin/env node
// Parsed by old Nodes too: see scripts/setup/nodeVersion.mjs.
import { nodeComplaint, TO_RUN } from '../scripts/setup/nodeVersion.mjs';

const complaint = nodeComplaint(process.versions.node, TO_RUN);
if (complaint === null) import('../scripts/setup/launch.mjs').then((program) => program.launch());
else {
  process.stderr.write(`${complaint}\n`);
  process.exitCode = 3;
}
