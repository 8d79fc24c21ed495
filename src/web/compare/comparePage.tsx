import { useEffect, useState } from 'react';
import type { CompareAnswer } from '../../protocol/index.ts';
import { Link } from '../link.tsx';
import { compareAddress, goTo } from '../route.ts';
import { server } from '../server.ts';
import { LessonFinder } from '../sets/lessonFinder.tsx';
import { messageOf } from '../shelf/useTuneText.ts';
import { wording } from '../wording/index.ts';

const { comparing } = wording;

type Bar = CompareAnswer['bars'][number];

/** One bar of one of the two. */
const Side = ({ side, title }: { readonly side: Bar['first']; readonly title: string }) =>
  side === null ? (
    <p className="quiet">
      {title} {comparing.none}
    </p>
  ) : (
    <div>
      <span className="quiet">{side.label}</span>
      <div
        role="img"
        aria-label={`${title}, ${side.label}`}
        // biome-ignore lint/security/noDangerouslySetInnerHtml: drawn by us, words escaped by the engraving room
        dangerouslySetInnerHTML={{ __html: side.picture }}
      />
    </div>
  );

/** Two bars under each other; what is different is said in words and marked by a heavy line. */
const Pair = ({ bar, titles }: { readonly bar: Bar; readonly titles: CompareAnswer['titles'] }) => (
  <li className={bar.differences.length > 0 ? 'comparedBar different' : 'comparedBar'}>
    <Side side={bar.first} title={titles[0]} />
    <Side side={bar.second} title={titles[1]} />
    {bar.differences.map((sentence) => (
      <p key={sentence}>{sentence}</p>
    ))}
  </li>
);

/** The comparison of two lessons. */
const Compared = ({ first, second }: { readonly first: string; readonly second: string }) => {
  const [answer, setAnswer] = useState<CompareAnswer | null>(null);
  const [trouble, setTrouble] = useState('');
  const [only, setOnly] = useState(false);
  useEffect(() => {
    let isCurrent = true;
    setAnswer(null);
    setTrouble('');
    server.compare(first, second).then(
      (now) => {
        if (isCurrent) setAnswer(now);
      },
      (error: unknown) => {
        if (isCurrent) setTrouble(messageOf(error));
      },
    );
    return () => {
      isCurrent = false;
    };
  }, [first, second]);
  if (answer === null)
    return <p role={trouble === '' ? 'status' : 'alert'}>{trouble === '' ? comparing.working : trouble}</p>;
  const { titles, summary, bars } = answer;
  return (
    <>
      <h2>
        {titles[0]} <span className="quiet">·</span> {titles[1]}
      </h2>
      {summary.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <label className="tick">
        <input type="checkbox" checked={only} onChange={({ target }) => setOnly(target.checked)} />
        <span>{comparing.only}</span>
      </label>
      <ol className="comparedBars">
        {bars.map((bar, i) =>
          only && bar.differences.length === 0 ? null : (
            // biome-ignore lint/suspicious/noArrayIndexKey: the place is what names a pair
            <Pair key={i} bar={bar} titles={titles} />
          ),
        )}
      </ol>
    </>
  );
};

/** Chooses two lessons, and shows them bar under bar. */
export const ComparePage = ({
  first,
  second,
}: {
  readonly first: string | null;
  readonly second: string | null;
}) => {
  const [one, setOne] = useState<{ readonly id: string; readonly title: string } | null>(null);
  return (
    <main className="page compare">
      <p className="crumb">
        <Link to="/">{wording.techniques.back}</Link>{' '}
        {first !== null && <Link to="/compare">{comparing.other}</Link>}
      </p>
      <h1>{comparing.heading}</h1>
      {first !== null && second !== null ? (
        <Compared first={first} second={second} />
      ) : (
        <>
          <p>{comparing.about}</p>
          {one !== null && (
            <p>
              {comparing.first}: <b>{one.title}</b>{' '}
              <button type="button" className="word" onClick={() => setOne(null)}>
                {comparing.other}
              </button>
            </p>
          )}
          <h2>{comparing.choose(one === null ? comparing.first : comparing.second)}</h2>
          <LessonFinder
            key={one?.id ?? ''}
            chosen={one === null ? [] : [one.id]}
            add={({ id, title }) => (one === null ? setOne({ id, title }) : goTo(compareAddress(one.id, id)))}
            word={comparing.take}
          />
        </>
      )}
    </main>
  );
};
