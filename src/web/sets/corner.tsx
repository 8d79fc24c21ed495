import { useEffect, useState } from 'react';
import { cornerSound, server } from '../server.ts';
import { messageOf } from '../shelf/useTuneText.ts';
import { wording } from '../wording/index.ts';

const { sets } = wording;

interface CornerProps {
  readonly id: string;
  readonly index: number;
  /** Null: the set cannot be played as it is, so there is nothing to see or hear. */
  readonly revision: string | null;
  readonly from: string;
  readonly to: string;
  readonly words: readonly string[];
  readonly turn: string | null;
  readonly setTurn: (turn: string | null) => void;
}

/** The pictures of a corner as it is now; null: they are being drawn. */
const usePictures = (id: string, index: number, revision: string | null) => {
  const [pictures, setPictures] = useState<readonly string[] | null>(null);
  const [said, setSaid] = useState('');
  useEffect(() => {
    let isCurrent = true;
    setPictures(null);
    if (revision === null) return;
    server.corner(id, index).then(
      (answer) => {
        if (!isCurrent) return;
        setPictures(answer.pictures);
        setSaid('');
      },
      (error: unknown) => {
        if (isCurrent) setSaid(messageOf(error));
      },
    );
    return () => {
      isCurrent = false;
    };
  }, [id, index, revision]);
  return { pictures, said };
};

/** A small picture of music. */
const Picture = ({ svg, says }: { readonly svg: string; readonly says: string }) => (
  <figure>
    {/* biome-ignore lint/security/noDangerouslySetInnerHtml: drawn by us, words escaped by the engraving room */}
    <div role="img" aria-label={says} dangerouslySetInnerHTML={{ __html: svg }} />
    <figcaption className="quiet">{says}</figcaption>
  </figure>
);

/** How one tune goes over into the next: seen, said, heard, and its chord chosen. */
export const Corner = (props: CornerProps) => {
  const { id, index, revision, from, to, words, turn, setTurn } = props;
  const { pictures, said } = usePictures(id, index, revision);
  const [heard, setHeard] = useState(false);
  const [last, first] = pictures ?? [];
  return (
    <section className="corner" aria-label={sets.corner(from, to)}>
      <h3>{sets.corner(from, to)}</h3>
      {words.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {revision !== null && pictures === null && <p role="status">{said === '' ? sets.drawing : said}</p>}
      <div className="pictures">
        {last !== undefined && <Picture svg={last} says={sets.lastBar} />}
        {first !== undefined && <Picture svg={first} says={sets.firstBar(to)} />}
      </div>
      <div className="field">
        <label>
          <span>{sets.turn}</span>
          <input
            type="text"
            maxLength={12}
            defaultValue={turn ?? ''}
            key={turn ?? ''}
            placeholder={sets.turnHint}
            onBlur={({ target }) => {
              const wanted = target.value.trim() === '' ? null : target.value.trim();
              if (wanted !== turn) setTurn(wanted);
            }}
          />
        </label>
      </div>
      {revision !== null &&
        (heard ? (
          // biome-ignore lint/a11y/useMediaCaption: a tune that is played has no words
          <audio
            controls
            autoPlay
            src={cornerSound(id, index, revision)}
            aria-label={sets.hearing(from, to)}
          />
        ) : (
          <button type="button" className="word" onClick={() => setHeard(true)}>
            {sets.hear}
          </button>
        ))}
    </section>
  );
};
