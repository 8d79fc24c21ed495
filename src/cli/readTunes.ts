import { isAbsolute, join } from 'node:path';
import { type Diagnostic, placeFinder } from '../core/index.ts';
import { readTuneFile } from '../intake/index.ts';
import { type AbcBook, readAbc } from '../notation/index.ts';
import { complain, type Io } from './io.ts';
import { ornamentProblemsIn } from './ornamentProblems.ts';

/** A file of tunes as a user named it. */
export interface TuneFile {
  /** As named. */
  readonly name: string;
  /** The tunes as ABC, also where the file is of another format. */
  readonly text: string;
  readonly book: AbcBook;
}

/** A user's path from where the command was started. */
export const pathFrom = (io: Io, path: string): string => (isAbsolute(path) ? path : join(io.cwd, path));

/** The tunes in a text; what was imported has no places in the user's file, but more to say. */
const bookOf = (text: string, imported: readonly Diagnostic[] | null): AbcBook => {
  const { tunes, diagnostics } = readAbc(text);
  const book = { tunes, diagnostics: [...diagnostics, ...tunes.flatMap(ornamentProblemsIn)] };
  if (imported === null) return book;
  const placeless = (problems: readonly Diagnostic[]): readonly Diagnostic[] =>
    problems.map(({ span: _span, ...told }) => told);
  return {
    tunes: book.tunes.map((tune) => ({ ...tune, diagnostics: placeless(tune.diagnostics) })),
    diagnostics: [...imported, ...placeless(book.diagnostics)],
  };
};

/**
 * Reads a file of tunes: ABC, MusicXML or compressed MusicXML.
 *
 * A file that cannot be read, or in which there is no tune, has no tunes and says why among its diagnostics.
 */
export const readTunes = async (name: string, io: Io): Promise<TuneFile> => {
  const file = await readTuneFile(pathFrom(io, name));
  if (file.kind === 'text') return { name, text: file.text, book: bookOf(file.text, file.imported) };
  const unreadable: Diagnostic = { code: 'unreadable', severity: 'error', message: file.message };
  return { name, text: '', book: { tunes: [], diagnostics: [unreadable] } };
};

/** Prints diagnostics on standard error, in their order. */
export const complainAll = (io: Io, file: TuneFile, problems: readonly Diagnostic[]): void => {
  const placeOf = placeFinder(file.text);
  for (const { severity, message, hint, span } of problems) {
    const { line, column } = placeOf(span?.start ?? 0);
    const kind = severity === 'error' ? '' : `${severity}: `;
    complain(io, `${file.name}:${line}:${column}: ${kind}${message}${hint === undefined ? '' : ` ${hint}`}`);
  }
};

/** Diagnostics as `--json` prints them: places counted from 1, the length in characters. */
export const diagnosticsJson = (file: TuneFile): readonly unknown[] => {
  const placeOf = placeFinder(file.text);
  return file.book.diagnostics.map((d) => ({
    code: d.code,
    severity: d.severity,
    message: d.message,
    hint: d.hint ?? null,
    ...placeOf(d.span?.start ?? 0),
    length: d.span === undefined ? 0 : d.span.end - d.span.start,
  }));
};

/** Whether any of them is an error. */
export const hasError = (problems: readonly Diagnostic[]): boolean =>
  problems.some((p) => p.severity === 'error');
