import { useEffect, useState } from 'react';
import type { SetsAnswer } from '../../protocol/index.ts';
import { Link } from '../link.tsx';
import { setAddress } from '../route.ts';
import { server } from '../server.ts';
import { wording } from '../wording/index.ts';

const { sets } = wording;

/** The sets of the shelf, as a section of "My lessons". */
export const SetList = ({ turn }: { readonly turn: unknown }) => {
  const [answer, setAnswer] = useState<SetsAnswer | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked at again whenever the shelf has changed
  useEffect(() => {
    let isCurrent = true;
    server.sets().then(
      (now) => {
        if (isCurrent) setAnswer(now);
      },
      () => undefined,
    );
    return () => {
      isCurrent = false;
    };
  }, [turn]);
  if (answer === null) return null;
  return (
    <section className="sets" aria-label={sets.heading}>
      <h2>{sets.heading}</h2>
      {answer.sets.length === 0 && <p className="quiet">{sets.none}</p>}
      <ul>
        {answer.sets.map(({ id, title, tunes, problem, hasPack }) => (
          <li key={id}>
            <h3>
              <Link to={setAddress(id)}>{title}</Link>
            </h3>
            <p>{[sets.tunes(tunes), hasPack ? sets.hasPack : ''].filter((w) => w !== '').join(' · ')}</p>
            {problem !== null && <p className="trouble">{problem}</p>}
          </li>
        ))}
      </ul>
      <p>
        <Link to="/set" className="word">
          {sets.make}
        </Link>
        <Link to="/techniques" className="word">
          {wording.techniques.link}
        </Link>
        <Link to="/compare" className="word">
          {wording.comparing.link}
        </Link>
      </p>
    </section>
  );
};
