import { useState } from 'react';
import type { LessonCard } from '../../protocol/index.ts';
import { Link } from '../link.tsx';
import { goTo, setAddress } from '../route.ts';
import { server } from '../server.ts';
import { messageOf } from '../shelf/useTuneText.ts';
import { wording } from '../wording/index.ts';
import { LessonFinder } from './lessonFinder.tsx';
import { moved, Ordering } from './ordering.tsx';
import { SET_SIZE, usualTune } from './wishes.ts';

const { sets } = wording;

/** Begins a set: two to four lessons in the order of playing. */
export const NewSet = () => {
  const [chosen, setChosen] = useState<readonly LessonCard[]>([]);
  const [title, setTitle] = useState('');
  const [said, setSaid] = useState('');
  const [busy, setBusy] = useState(false);
  const make = (): void => {
    setBusy(true);
    setSaid('');
    server.makeSet({ title: title.trim(), plays: null, tunes: chosen.map(({ id }) => usualTune(id)) }).then(
      ({ id }) => goTo(setAddress(id)),
      (error: unknown) => {
        setSaid(messageOf(error));
        setBusy(false);
      },
    );
  };
  const isFull = chosen.length >= SET_SIZE.most;
  return (
    <main className="page set">
      <p className="crumb">
        <Link to="/">{sets.back}</Link>
      </p>
      <h1>{sets.newHeading}</h1>
      <p>{sets.choose}</p>
      <section aria-live="polite">
        <h2>{sets.inIt}</h2>
        {chosen.length === 0 && <p className="quiet">{sets.nothingYet}</p>}
        <ol className="inOrder">
          {chosen.map((card, i) => (
            <li key={card.id}>
              <b>{card.title}</b>{' '}
              <Ordering
                title={card.title}
                index={i}
                count={chosen.length}
                least={0}
                move={(by) => setChosen(moved(chosen, i, by))}
                takeOut={() => setChosen(chosen.filter((_, k) => k !== i))}
              />
            </li>
          ))}
        </ol>
      </section>
      {isFull ? (
        <p className="quiet">{sets.full}</p>
      ) : (
        <LessonFinder chosen={chosen.map(({ id }) => id)} add={(card) => setChosen([...chosen, card])} />
      )}
      <div className="field">
        <label>
          <span>{sets.name}</span>
          <input
            type="text"
            maxLength={200}
            value={title}
            placeholder={sets.nameHint}
            onChange={(event) => setTitle(event.target.value)}
          />
        </label>
      </div>
      {said !== '' && (
        <p className="trouble" role="alert">
          {said}
        </p>
      )}
      <p>
        <button type="button" className="do" disabled={busy || chosen.length < SET_SIZE.least} onClick={make}>
          {sets.making}
        </button>
      </p>
    </main>
  );
};
