import type { Diagnostic } from '../core/index.ts';
import { type AwkwardPlace, awkwardPlacesOf } from '../fiddle/index.ts';
import type { ReadTune } from '../notation/index.ts';
import { addressKey } from '../score/index.ts';
import type { TuneFile } from './readTunes.ts';

/** What a checker of the text remarks on; crossings and stretches are the tune's own affair. */
const REMARKED: readonly AwkwardPlace['kind'][] = ['shift', 'outOfReach'];

const remarksOn = ({ score, spans }: ReadTune): readonly Diagnostic[] =>
  awkwardPlacesOf(score)
    .filter(({ kind }) => REMARKED.includes(kind))
    .map(({ kind, from, what, advice }): Diagnostic => {
      const span = spans.get(addressKey(from));
      return {
        code: kind === 'shift' ? 'double-stop-out-of-position' : 'double-stop-out-of-reach',
        severity: 'remark',
        message: what,
        hint: advice,
        ...(span === undefined ? {} : { span }),
      };
    });

/** The file with remarks on double stops that first position, or no hand at all, can hold; in order of place. */
export const withHandRemarks = (file: TuneFile): TuneFile => {
  const remarks = file.book.tunes.flatMap(remarksOn);
  if (remarks.length === 0) return file;
  const diagnostics = [...file.book.diagnostics, ...remarks].toSorted(
    (a, b) => (a.span?.start ?? 0) - (b.span?.start ?? 0),
  );
  return { ...file, book: { ...file.book, diagnostics } };
};
