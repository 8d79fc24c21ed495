import { useEffect, useState } from 'react';
import type { DeletedAnswer } from '../../protocol/index.ts';
import { server } from '../server.ts';
import { wording } from '../wording/index.ts';
import { messageOf } from './useTuneText.ts';
import { whenWords } from './whenWords.ts';

const { shelf } = wording;

type Gone = DeletedAnswer['lessons'][number];

/** One that can come back; throwing it away is asked once more. */
const GoneRow = ({ gone, act }: { readonly gone: Gone; readonly act: (work: Promise<unknown>) => void }) => {
  const [sure, setSure] = useState(false);
  const word = (text: string, does: () => void) => (
    <button type="button" className="word" aria-label={shelf.nameOf(text, gone.title)} onClick={does}>
      {text}
    </button>
  );
  return (
    <li>
      <b>{gone.title}</b> <span className="quiet">{shelf.deleted(whenWords(gone.when, new Date()))}</span>{' '}
      <span className="acts">
        {word(shelf.bringBack, () => act(server.bringBack(gone.mark)))}
        {sure
          ? word(shelf.reallyThrow, () => act(server.throwAway(gone.mark)))
          : word(shelf.throwAway, () => setSure(true))}
        {sure && word(shelf.keepIt, () => setSure(false))}
      </span>
    </li>
  );
};

interface DeletedProps {
  /** Changes with the shelf. */
  readonly turn: unknown;
  readonly look: () => void;
}

/** The lessons that can still be brought back, behind one line; nothing where there are none. */
export const DeletedLessons = ({ turn, look }: DeletedProps) => {
  const [lessons, setLessons] = useState<readonly Gone[]>([]);
  const [said, setSaid] = useState('');
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked at again whenever the shelf has changed
  useEffect(() => {
    let current = true;
    server.deleted().then(
      (answer) => {
        if (current) setLessons(answer.lessons);
      },
      () => undefined,
    );
    return () => {
      current = false;
    };
  }, [turn]);
  const act = (work: Promise<unknown>): void => {
    setSaid('');
    work.then(look, (error: unknown) => setSaid(messageOf(error)));
  };
  if (lessons.length === 0) return null;
  const sets = lessons.filter(({ kind }) => kind === 'set').length;
  return (
    <details className="gone">
      <summary>{shelf.deletedLessons(lessons.length - sets, sets)}</summary>
      {said !== '' && (
        <p className="trouble" role="alert">
          {said}
        </p>
      )}
      <ul>
        {lessons.map((gone) => (
          <GoneRow key={gone.mark} gone={gone} act={act} />
        ))}
      </ul>
    </details>
  );
};
