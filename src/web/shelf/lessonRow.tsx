import { type FormEvent, useState } from 'react';
import type { LessonCard } from '../../protocol/index.ts';
import { Link } from '../link.tsx';
import { lessonAddress } from '../route.ts';
import { wording } from '../wording/index.ts';
import { whenWords } from './whenWords.ts';

const { shelf } = wording;

interface RowProps {
  readonly card: LessonCard;
  readonly duplicate: (card: LessonCard) => void;
  readonly rename: (card: LessonCard, title: string) => void;
  readonly remove: (card: LessonCard) => void;
}

/** "reel, G major · The bones, All the notes · moderate · pack up to date · changed today". */
const aboutOf = (card: LessonCard): string =>
  [
    [card.dance, card.key].filter((word) => word !== '').join(' in '),
    card.versions.join(', '),
    card.difficulty,
    shelf.pack[card.pack],
    shelf.changed(whenWords(card.changed, new Date())),
  ]
    .filter((word) => word !== '')
    .join(' · ');

/** One lesson of the list. */
export const LessonRow = ({ card, duplicate, rename, remove }: RowProps) => {
  const [naming, setNaming] = useState(false);
  const submit = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const title = String(new FormData(event.currentTarget).get('title') ?? '').trim();
    setNaming(false);
    if (title !== '' && title !== card.title) rename(card, title);
  };
  const act = (word: string, does: () => void) => (
    <button type="button" className="word" aria-label={shelf.nameOf(word, card.title)} onClick={does}>
      {word}
    </button>
  );
  return (
    <li className="lesson">
      <div className="what">
        {naming ? (
          <form onSubmit={submit} className="naming">
            <input
              name="title"
              defaultValue={card.title}
              aria-label={shelf.newName}
              maxLength={200}
              ref={(field) => field?.focus()}
            />
            <button type="submit" className="word">
              {shelf.keepName}
            </button>
            <button type="button" className="word" onClick={() => setNaming(false)}>
              {shelf.cancel}
            </button>
          </form>
        ) : (
          <h2>
            <Link to={lessonAddress(card.id)}>{card.title === '' ? card.id : card.title}</Link>
          </h2>
        )}
        {card.otherTitles.length > 0 && <p className="quiet">{shelf.also(card.otherTitles.join(', '))}</p>}
        <p>{aboutOf(card)}</p>
        {card.found !== '' && <p className="quiet">{card.found}</p>}
        {card.broken !== null && <p className="trouble">{shelf.broken(card.broken)}</p>}
      </div>
      <div className="acts">
        {act(shelf.duplicate, () => duplicate(card))}
        {act(shelf.rename, () => setNaming(true))}
        {act(shelf.remove, () => remove(card))}
      </div>
    </li>
  );
};
