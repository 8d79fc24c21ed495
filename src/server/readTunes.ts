import { placeFinder } from '../core/index.ts';
import { tuneTextIn } from '../intake/index.ts';
import { keyName } from '../music/index.ts';
import { readAbc } from '../notation/index.ts';
import type { TunesAnswer } from '../protocol/index.ts';
import { barsOf, fieldsOf, notesOf, titleOf } from '../score/index.ts';

/** Problems of a file that are listed; behind so many nobody reads on. Ours. */
const MOST_PROBLEMS = 200;

/** What a file of tunes holds, or in a sentence why it cannot be read. */
export type TunesRead =
  | { readonly kind: 'tunes'; readonly answer: TunesAnswer }
  | { readonly kind: 'problem'; readonly message: string };

const tunesIn = (abc: string): TunesAnswer => {
  const { tunes, diagnostics } = readAbc(abc);
  const placeOf = placeFinder(abc);
  return {
    abc,
    head: tunes.reduce((least, { span }) => Math.min(least, span.start), abc.length),
    tunes: tunes.map(({ score, span }) => ({
      from: span.start,
      to: span.end,
      title: titleOf(score),
      dance: fieldsOf(score, 'R')[0] ?? '',
      key: score.key.tonic === null ? '' : keyName(score.key),
      bars: barsOf(score).filter(({ bar }) => bar.number !== null).length,
      unusable: notesOf(score).length === 0 ? 'It has no notes.' : null,
    })),
    problems: diagnostics.slice(0, MOST_PROBLEMS).map(({ span, message, hint }) => ({
      ...placeOf(span?.start ?? 0),
      message: hint === undefined ? message : `${message} ${hint}`,
    })),
  };
};

/** What the bytes of a file of tunes hold. */
export const readTunes = (bytes: Uint8Array): TunesRead => {
  const text = tuneTextIn(bytes);
  if (text.kind === 'problem')
    return { kind: 'problem', message: `The file cannot be read: ${text.message}` };
  const answer = tunesIn(text.text);
  const imported = (text.imported ?? []).map(({ message }) => ({ line: 1, column: 1, message }));
  return { kind: 'tunes', answer: { ...answer, problems: [...imported, ...answer.problems] } };
};
