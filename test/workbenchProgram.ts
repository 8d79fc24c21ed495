import { type ChildProcess, spawn } from 'node:child_process';
import { join } from 'node:path';
import { ROOT } from './house.ts';

/** The workbench as a user starts it: a process of its own on a shelf. */
export interface Program {
  /** The address that is printed, its key included. */
  readonly address: string;
  readonly port: number;
  /** Ends it as a power cut would. */
  readonly kill: () => Promise<void>;
  readonly stop: () => Promise<void>;
}

const ended = (child: ChildProcess): Promise<void> =>
  new Promise((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) resolve();
    else child.once('exit', () => resolve());
  });

/** Starts the workbench. @param port - tried first */
export const startProgram = (shelf: string, port: number): Promise<Program> =>
  new Promise((resolve, reject) => {
    const args = [join(ROOT, 'bin/tuneladder.mjs'), 'open', shelf, '--port', String(port), '--no-browser'];
    const child = spawn(process.execPath, args);
    let said = '';
    const hear = (text: string): void => {
      said += text;
      const address = /http:\/\/127\.0\.0\.1:(\d+)\/\?key=\w+/.exec(said);
      if (address === null) return;
      const leave = async (signal: NodeJS.Signals): Promise<void> => {
        child.kill(signal);
        await ended(child);
      };
      resolve({
        address: address[0],
        port: Number(address[1]),
        kill: () => leave('SIGKILL'),
        stop: () => leave('SIGTERM'),
      });
    };
    child.stdout.setEncoding('utf8').on('data', hear);
    child.stderr.setEncoding('utf8').on('data', hear);
    child.once('exit', () => reject(new Error(`the workbench ended: ${said}`)));
  });
