import type { TunesAnswer } from '../../protocol/index.ts';
import { wording } from '../wording/index.ts';
import { beginningFor, begun } from './beginTune.ts';

const { making } = wording;

interface NoTuneProps {
  readonly read: TunesAnswer;
  readonly text: string;
  readonly setText: (text: string) => void;
}

/** Says that a text holds no tune, and offers what is missing where it looks like one. */
export const NoTune = ({ read, text, setText }: NoTuneProps) => {
  const beginning = beginningFor(text);
  return (
    <div role="alert">
      <p className="trouble">{read.problems[0]?.message}</p>
      {beginning !== null && (
        <button type="button" className="word" onClick={() => setText(begun(text, beginning))}>
          {making.begin[beginning]}
        </button>
      )}
    </div>
  );
};
