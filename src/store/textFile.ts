import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { codeOf, reasonOf } from './worldError.ts';

/** The largest file that is read, in bytes. Ours: ten times the largest tune book that we have seen. */
const LARGEST_BYTES = 5_000_000;

/** A file's text, or in one sentence why there is none and what to do. */
export type TextFile =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'problem'; readonly message: string };

/** A file's bytes, or in one sentence why there are none and what to do. */
export type FileBytes =
  | { readonly kind: 'bytes'; readonly bytes: Uint8Array }
  | { readonly kind: 'problem'; readonly message: string };

const problem = (message: string): { readonly kind: 'problem'; readonly message: string } => ({
  kind: 'problem',
  message,
});

/** Character sets that a file may name in a `%%abc-charset` line beside UTF-8. Source: ABC standard 2.1, section 4.1 of its appendix on directives, from memory. */
const CHARSET_LINE = /^%%abc-charset\s+(\S+)/m;

const decode = (bytes: Uint8Array): TextFile => {
  if (bytes[0] === 0xff && bytes[1] === 0xfe)
    return { kind: 'text', text: new TextDecoder('utf-16le').decode(bytes) };
  if (bytes[0] === 0xfe && bytes[1] === 0xff)
    return { kind: 'text', text: new TextDecoder('utf-16be').decode(bytes) };
  if (bytes.includes(0))
    return problem(
      'this is no text file: it may be a picture, a sound or another program’s own format. Save it as plain text.',
    );
  try {
    return { kind: 'text', text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    const rough = new TextDecoder('latin1').decode(bytes);
    const named = CHARSET_LINE.exec(rough)?.[1]?.toLowerCase();
    if (named?.startsWith('iso-8859-') || named === 'latin1') {
      try {
        return { kind: 'text', text: new TextDecoder(named).decode(bytes) };
      } catch {
        return problem(
          `the file names the character set "${named}", which is not known here. Save it as UTF-8.`,
        );
      }
    }
    const line = firstBadLine(bytes);
    return problem(
      `line ${line} is not UTF-8. Save the file as UTF-8, or write "%%abc-charset iso-8859-1" into its first line if it is an old Latin-1 file.`,
    );
  }
};

const firstBadLine = (bytes: Uint8Array): number => {
  let line = 1;
  let start = 0;
  for (let i = 0; i <= bytes.length; i += 1) {
    if (i < bytes.length && bytes[i] !== 10) continue;
    try {
      new TextDecoder('utf-8', { fatal: true }).decode(bytes.subarray(start, i));
    } catch {
      return line;
    }
    line += 1;
    start = i + 1;
  }
  return line;
};

const tooLarge = (how: string): FileBytes =>
  problem(`the file ${how}; at most ${LARGEST_BYTES / 1e6} MB are read. Split it into smaller files.`);

/** What a pipe or a device gives has no size that one could ask for before. */
const readAtMost = async (path: string, most: number): Promise<Uint8Array> => {
  const pieces: Uint8Array[] = [];
  for await (const piece of createReadStream(path, { end: most - 1 })) pieces.push(piece as Uint8Array);
  return Buffer.concat(pieces);
};

/**
 * The text in a file's bytes.
 * @returns the text without byte order mark, or the problem in words: binary, wrong encoding
 */
export const textIn = (bytes: Uint8Array): TextFile => {
  const decoded = decode(bytes);
  return decoded.kind === 'text' ? { kind: 'text', text: decoded.text.replace(/^\ufeff/, '') } : decoded;
};

/**
 * Reads a file that a user named.
 * @param path - absolute or relative to the working directory
 * @returns its bytes, or the problem in words: missing, a folder, empty, too large
 */
export const readFileBytes = async (path: string): Promise<FileBytes> => {
  try {
    const about = await stat(path);
    if (about.isDirectory()) return problem('this is a folder, not a file. Name the file inside it.');
    if (about.size > LARGEST_BYTES) {
      return tooLarge(`has ${(about.size / 1e6).toFixed(1)} MB`);
    }
    const bytes = await readAtMost(path, LARGEST_BYTES + 1);
    if (bytes.length > LARGEST_BYTES) return tooLarge('is too large');
    if (bytes.length === 0) return problem('the file is empty.');
    return { kind: 'bytes', bytes };
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return problem('there is no such file.');
    return problem(`the file cannot be read: ${reasonOf(error)}.`);
  }
};

/**
 * Reads a text file that a user named.
 * @param path - absolute or relative to the working directory
 * @returns the text without byte order mark, or the problem in words: missing, a folder, empty, too large, binary, wrong encoding
 */
export const readTextFile = async (path: string): Promise<TextFile> => {
  const file = await readFileBytes(path);
  return file.kind === 'bytes' ? textIn(file.bytes) : file;
};
