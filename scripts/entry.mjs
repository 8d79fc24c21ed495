// Parsed by old Nodes too: see setup/nodeVersion.mjs.
import { nodeComplaint, TO_RUN } from './setup/nodeVersion.mjs';

/**
 * Runs one of the commands of package.json: checks Node first, and only then loads the command.
 * @param {() => Promise<{run: (argv: string[]) => Promise<number>}>} load - imports the command's module
 * @param {number[][]} oldestNode - `TO_RUN` or `TO_CHECK`
 */
export const runCommand = (load, oldestNode = TO_RUN) => {
  const complaint = nodeComplaint(process.versions.node, oldestNode);
  if (complaint !== null) {
    console.error(complaint);
    process.exitCode = 1;
    return;
  }
  load()
    .then((command) => command.run(process.argv.slice(2)))
    .then(
      (code) => {
        process.exitCode = code;
      },
      (error) => {
        // A Stop is a sentence for the person at the terminal; anything else is a fault of ours and keeps its stack.
        console.error(error.name === 'Stop' ? error.message : error);
        process.exitCode = 1;
      },
    );
};
