import type { Diagnostic } from '../core/index.ts';
import { type ImportedTune, readMidi, readMusicXml, writeAbc } from '../notation/index.ts';
import { readFileBytes, textIn } from '../store/index.ts';
import { parseXml } from './parseXml.ts';
import { unpackMxl } from './unpackMxl.ts';

/** A file of tunes as ABC text. */
export type TuneText =
  | {
      readonly kind: 'text';
      readonly text: string;
      /** What could not be read on the way; null where the file is ABC itself, so that places in the text are places in the file. */
      readonly imported: readonly Diagnostic[] | null;
    }
  | { readonly kind: 'problem'; readonly message: string };

const beginsWith = (bytes: Uint8Array, mark: string): boolean =>
  [...mark].every((c, i) => bytes[i] === c.charCodeAt(0));

const asText = ({ score, diagnostics }: ImportedTune): TuneText => {
  const failed = diagnostics.find((d) => d.severity === 'error');
  if (score !== null) return { kind: 'text', text: writeAbc(score), imported: diagnostics };
  return {
    kind: 'problem',
    message: `${failed?.message ?? 'There is no tune.'} ${failed?.hint ?? ''}`.trim(),
  };
};

const fromXml = (text: string): TuneText => {
  const parsed = parseXml(text);
  if (parsed.kind === 'problem')
    return { kind: 'problem', message: `this is no well-formed XML: ${parsed.message}` };
  return asText(readMusicXml(parsed.root));
};

/**
 * The tunes in a file's bytes, see `readTuneFile`.
 * @param bytes - whoever hands them over has limited how many they are
 */
export const tuneTextIn = (bytes: Uint8Array): TuneText => {
  if (beginsWith(bytes, 'PK')) {
    const unpacked = unpackMxl(bytes);
    return unpacked.kind === 'bytes' ? tuneTextIn(unpacked.bytes) : unpacked;
  }
  if (beginsWith(bytes, 'MThd')) return asText(readMidi(bytes));
  const text = textIn(bytes);
  if (text.kind === 'problem') return text;
  return /^\s*</.test(text.text) ? fromXml(text.text) : { ...text, imported: null };
};

/**
 * Reads a file of tunes in whatever of our formats it is: ABC, MusicXML, that compressed (.mxl), or MIDI.
 *
 * The format is known by the file's content, not by its name.
 * @param path - absolute or relative to the working directory
 * @returns the tunes as ABC text, or the problem in words
 */
export const readTuneFile = async (path: string): Promise<TuneText> => {
  const file = await readFileBytes(path);
  return file.kind === 'bytes' ? tuneTextIn(file.bytes) : file;
};
