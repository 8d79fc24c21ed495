import type { Diagnostic } from '../core/index.ts';
import { ornamentsOf } from '../fiddle/index.ts';
import type { ReadTune } from '../notation/index.ts';
import { addressKey } from '../score/index.ts';

/** What speaks against the ornaments of a tune as written, each at its place in the text. */
export const ornamentProblemsIn = ({ score, spans }: ReadTune): readonly Diagnostic[] =>
  ornamentsOf(score).flatMap(({ address, problems }) => {
    const { part, bar, onset } = address;
    const span = spans.get(addressKey(address)) ?? spans.get(addressKey({ part, bar, onset }));
    return problems.map((problem) => (span === undefined ? problem : { ...problem, span }));
  });
