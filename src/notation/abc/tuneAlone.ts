import type { AbcBook } from './book.ts';
import type { ReadTune } from './readTune.ts';

/** A text is handed on as UTF-8, whatever the file that it came from was written in. */
const CHARSET = /^(%%abc-charset\s+)\S+/gm;

/**
 * One tune of a book as a text of its own: the file's header goes with it.
 * @param text - the whole book
 * @param book - what `readAbc` made of it
 * @param tune - one of the book's tunes
 */
export const tuneAlone = (text: string, book: AbcBook, tune: ReadTune): string => {
  const first = book.tunes.reduce((least, { span }) => Math.min(least, span.start), tune.span.start);
  const own = text.slice(tune.span.start, tune.span.end).trimEnd();
  const header = text.slice(0, first).trim();
  return `${header === '' ? '' : `${header}\n\n`}${own}\n`.replace(CHARSET, '$1utf-8');
};
