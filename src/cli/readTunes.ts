import { isAbsolute, join } from 'node:path';
import { type Diagnostic, placeFinder } from '../core/index.ts';
import { type AbcBook, readAbc } from '../notation/index.ts';
import { readTextFile } from '../store/index.ts';
import { complain, type Io } from './io.ts';

/** A file of tunes as a user named it. */
export interface TuneFile {
  /** As named. */
  readonly name: string;
  readonly text: string;
  readonly book: AbcBook;
}

/** A user's path from where the command was started. */
export const pathFrom = (io: Io, path: string): string => (isAbsolute(path) ? path : join(io.cwd, path));

/** `file:line:column: message`, with the kind of problem where it is no error, and the remedy after it. */
const diagnosticLine = (name: string, text: string, problem: Diagnostic): string => {
  const place = placeFinder(text)(problem.span?.start ?? 0);
  const kind = problem.severity === 'error' ? '' : `${problem.severity}: `;
  const hint = problem.hint === undefined ? '' : ` ${problem.hint}`;
  return `${name}:${place.line}:${place.column}: ${kind}${problem.message}${hint}`;
};

/**
 * Reads a file of tunes; complains where that is impossible.
 * @returns null after a complaint: no such file, binary, too large, no tune in it
 */
export const readTunes = async (name: string, io: Io): Promise<TuneFile | null> => {
  const file = await readTextFile(pathFrom(io, name));
  if (file.kind === 'problem') {
    complain(io, `${name}:1:1: ${file.message}`);
    return null;
  }
  const book = readAbc(file.text);
  if (book.tunes.length === 0) {
    for (const problem of book.diagnostics) complain(io, diagnosticLine(name, file.text, problem));
    complain(
      io,
      `${name}:1:1: there is no tune in this file. A tune begins with a line "X:1" and its notes follow a line "K:".`,
    );
    return null;
  }
  return { name, text: file.text, book };
};

/** Prints diagnostics on standard error, worst first within each line's order. */
export const complainAll = (io: Io, file: TuneFile, problems: readonly Diagnostic[]): void => {
  for (const problem of problems) complain(io, diagnosticLine(file.name, file.text, problem));
};

/** Whether any of them is an error. */
export const hasError = (problems: readonly Diagnostic[]): boolean =>
  problems.some((p) => p.severity === 'error');
