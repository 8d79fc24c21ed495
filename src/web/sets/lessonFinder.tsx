import { useDeferredValue, useState } from 'react';
import type { LessonCard } from '../../protocol/index.ts';
import { useShelf } from '../shelf/useShelf.ts';
import { wording } from '../wording/index.ts';

const { sets } = wording;

/** Lessons that are offered at once. Ours. */
const OFFERED = 8;

interface FinderProps {
  /** Ids of lessons that are chosen already. */
  readonly chosen: readonly string[];
  readonly add: (card: LessonCard) => void;
  /** What choosing one is called; default "Add". */
  readonly word?: string;
}

/** Finds lessons to put into a set. */
export const LessonFinder = ({ chosen, add, word = sets.add }: FinderProps) => {
  const [typed, setTyped] = useState('');
  const { answer, trouble } = useShelf(useDeferredValue(typed.trim()));
  const offered = (answer?.lessons ?? []).filter(({ id, broken }) => broken === null && !chosen.includes(id));
  return (
    <search className="finder">
      <label>
        <span>{sets.find}</span>
        <input type="search" value={typed} onChange={(event) => setTyped(event.target.value)} />
      </label>
      {trouble !== '' && (
        <p className="trouble" role="alert">
          {trouble}
        </p>
      )}
      <ul>
        {offered.slice(0, OFFERED).map((card) => (
          <li key={card.id}>
            <button
              type="button"
              className="word"
              aria-label={sets.of(word, card.title)}
              onClick={() => add(card)}
            >
              {word}
            </button>{' '}
            <b>{card.title}</b>{' '}
            <span className="quiet">{[card.dance, card.key].filter((w) => w !== '').join(' in ')}</span>
          </li>
        ))}
      </ul>
      {answer !== null && answer.lessons.length === 0 && (
        <p className="quiet">{wording.shelf.nothingFound(typed)}</p>
      )}
    </search>
  );
};
