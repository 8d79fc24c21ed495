import { spawn } from 'node:child_process';

/**
 * Runs a program to its end, its output kept or shown.
 *
 * While it runs, Ctrl-C is left to it: it gets the signal too, tidies up, and its exit code is what counts.
 * @param {string} program
 * @param {string[]} args
 * @param {{cwd: string, env?: NodeJS.ProcessEnv, show?: boolean, shell?: boolean}} options - `show`: straight to the
 *   terminal instead of into `output`
 * @returns {Promise<{code: number, output: string}>} code 1 when it was ended by a signal
 */
export const runProgram = (program, args, { cwd, env = process.env, show = false, shell = false }) =>
  new Promise((resolve, reject) => {
    const child = spawn(program, args, {
      cwd,
      env,
      shell,
      stdio: show ? 'inherit' : ['ignore', 'pipe', 'pipe'],
    });
    const leaveIt = () => {};
    process.on('SIGINT', leaveIt);
    let output = '';
    for (const stream of [child.stdout, child.stderr]) {
      stream?.setEncoding('utf8').on('data', (text) => {
        output += text;
      });
    }
    child.on('error', reject);
    child.on('close', (code, signal) => {
      process.off('SIGINT', leaveIt);
      resolve({ code: code ?? (signal === 'SIGINT' ? 130 : 1), output });
    });
  });

/** Runs a JavaScript program with this Node; see `runProgram`. */
export const runNode = (args, options) => runProgram(process.execPath, args, options);
