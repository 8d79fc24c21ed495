import { parseArgs } from 'node:util';
import { placeFinder } from '../core/index.ts';
import { titleOf } from '../score/index.ts';
import { withHandRemarks } from './handRemarks.ts';
import { EXIT, type Exit, type Io, say, UsageError } from './io.ts';
import { complainAll, diagnosticsJson, hasError, readTunes, type TuneFile } from './readTunes.ts';

/** Help of `check`. */
export const CHECK_HELP = `tuneladder check FILE.abc… [--json]

Reads tunes and says what is wrong with them, with line, column and remedy.
Exit code 1 when there is an error; warnings and remarks alone give 0.

  --json   one JSON document on standard output, nothing else`;

const counted = (n: number, one: string): string => `${n} ${one}${n === 1 ? '' : 's'}`;

const summaryOf = (file: TuneFile): string => {
  const count = (severity: string): number =>
    file.book.diagnostics.filter((d) => d.severity === severity).length;
  const found = [
    counted(count('error'), 'error'),
    counted(count('warning'), 'warning'),
    counted(count('remark'), 'remark'),
  ];
  return `${file.name}: ${counted(file.book.tunes.length, 'tune')}, ${found.join(', ')}`;
};

const jsonOf = (file: TuneFile): unknown => {
  const placeOf = placeFinder(file.text);
  return {
    file: file.name,
    tunes: file.book.tunes.map((t) => ({
      number: t.score.number,
      title: titleOf(t.score),
      line: placeOf(t.span.start).line,
    })),
    diagnostics: diagnosticsJson(file),
  };
};

/** `tuneladder check`. */
export const check = async (argv: readonly string[], io: Io): Promise<Exit> => {
  const { values, positionals } = parseArgs({
    args: [...argv],
    options: { json: { type: 'boolean', default: false } },
    allowPositionals: true,
  });
  if (positionals.length === 0) throw new UsageError('check: name at least one ABC file');
  const documents: unknown[] = [];
  let wrong = false;
  for (const name of positionals) {
    const file = withHandRemarks(await readTunes(name, io));
    wrong ||= hasError(file.book.diagnostics);
    documents.push(jsonOf(file));
    if (!values.json) {
      complainAll(io, file, file.book.diagnostics);
      if (file.book.tunes.length > 0) say(io, summaryOf(file));
    }
  }
  if (values.json) say(io, JSON.stringify({ files: documents }, null, 2));
  return wrong ? EXIT.input : EXIT.done;
};
