import { useEffect, useState } from 'react';
import type { Checkpoints, LessonTexts } from '../../protocol/index.ts';
import { server } from '../server.ts';
import { whenWords } from '../shelf/whenWords.ts';
import { wording } from '../wording/index.ts';

interface EarlierProps {
  readonly id: string;
  readonly bringBack: (texts: LessonTexts) => void;
}

const { earlier } = wording;

/** Earlier states of the lesson; bringing one back is a step like any other. */
export const EarlierPanel = ({ id, bringBack }: EarlierProps) => {
  const [list, setList] = useState<Checkpoints['checkpoints'] | null>(null);
  const [said, setSaid] = useState('');
  useEffect(() => {
    server.earlier(id).then(
      ({ checkpoints }) => setList(checkpoints),
      (error: unknown) => setSaid(error instanceof Error ? error.message : String(error)),
    );
  }, [id]);
  const take = (mark: string, when: string): void => {
    server.earlierTexts(id, mark).then(
      (texts) => {
        bringBack(texts);
        setSaid(earlier.back(when));
      },
      (error: unknown) => setSaid(error instanceof Error ? error.message : String(error)),
    );
  };
  return (
    <div className="earlier">
      <p>{earlier.about}</p>
      <p role="status">{said}</p>
      {list !== null && list.length === 0 && <p className="empty">{earlier.none}</p>}
      <ol>
        {(list ?? []).map(({ mark, when, what }) => {
          const words = whenWords(when, new Date());
          return (
            <li key={mark}>
              <span>{words}</span> <span className="quiet">{what}</span>{' '}
              <button
                type="button"
                className="word"
                aria-label={earlier.takeOf(words)}
                onClick={() => take(mark, words)}
              >
                {earlier.take}
              </button>
            </li>
          );
        })}
      </ol>
    </div>
  );
};
