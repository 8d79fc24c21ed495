import { useDeferredValue, useState } from 'react';
import type { LessonCard } from '../../protocol/index.ts';
import { Link } from '../link.tsx';
import { server } from '../server.ts';
import { SetList } from '../sets/setList.tsx';
import { wording } from '../wording/index.ts';
import { DeletedLessons } from './deletedLessons.tsx';
import { LessonRow } from './lessonRow.tsx';
import { useShelf } from './useShelf.ts';
import { messageOf } from './useTuneText.ts';

const { shelf } = wording;

/** A deleted lesson that can still be brought back. */
interface Gone {
  readonly title: string;
  readonly mark: string;
}

/** The page's head: whose it is, where the lessons lie, finding one and beginning one. */
const Masthead = ({
  folder,
  typed,
  type,
}: {
  readonly folder: string | null;
  readonly typed: string;
  readonly type: (words: string) => void;
}) => (
  <>
    <header className="masthead">
      <p className="product">{wording.product}</p>
      <h1>{shelf.heading}</h1>
      <p className="quiet">{folder === null ? wording.loading : shelf.folder(folder)}</p>
    </header>
    <search className="finding">
      <label>
        <span>{shelf.find}</span>
        <input
          type="search"
          value={typed}
          placeholder={shelf.findHint}
          onChange={(event) => type(event.target.value)}
        />
      </label>
      <Link to="/new" className="begin">
        {shelf.newLesson}
      </Link>
    </search>
  </>
);

/** The first page: all lessons, finding one, beginning one. */
export const MyLessons = () => {
  const [typed, setTyped] = useState('');
  const words = useDeferredValue(typed.trim());
  const { answer, trouble, look } = useShelf(words);
  const [gone, setGone] = useState<Gone | null>(null);
  const [said, setSaid] = useState('');

  const act = (work: () => Promise<void>): void => {
    setSaid('');
    work().then(look, (error: unknown) => setSaid(messageOf(error)));
  };
  const acts = {
    duplicate: (card: LessonCard) => act(async () => void (await server.duplicate(card.id))),
    rename: (card: LessonCard, title: string) => act(() => server.rename(card.id, title)),
    remove: (card: LessonCard) =>
      act(async () => {
        const { mark } = await server.remove(card.id);
        setGone({ title: card.title, mark });
      }),
  };
  const bringBack = ({ mark }: Gone): void =>
    act(async () => {
      await server.bringBack(mark);
      setGone(null);
    });

  return (
    <main className="page shelf">
      <Masthead folder={answer?.folder ?? null} typed={typed} type={setTyped} />
      <p className="quiet" role="status">
        {answer !== null && answer.all > 0
          ? words === ''
            ? shelf.count(answer.all)
            : shelf.found(answer.matching, answer.all)
          : ''}
      </p>
      {(trouble !== '' || said !== '') && (
        <p className="trouble" role="alert">
          {said === '' ? trouble : said}
        </p>
      )}
      {gone !== null && (
        <p className="notice" role="status">
          {shelf.removed(gone.title)}{' '}
          <button type="button" className="word" onClick={() => bringBack(gone)}>
            {shelf.bringBack}
          </button>
        </p>
      )}
      {answer !== null && answer.lessons.length === 0 && (
        <p className="empty">{words === '' ? shelf.none : shelf.nothingFound(words)}</p>
      )}
      {answer !== null && answer.lessons.length > 0 && (
        <ol className="lessons" aria-label={shelf.list}>
          {answer.lessons.map((card) => (
            <LessonRow key={card.id} card={card} {...acts} />
          ))}
        </ol>
      )}
      {answer !== null && answer.matching > answer.lessons.length && (
        <p className="quiet">{shelf.more(answer.matching - answer.lessons.length)}</p>
      )}
      {words === '' && answer !== null && <SetList turn={answer} />}
      <DeletedLessons turn={answer} look={look} />
    </main>
  );
};
