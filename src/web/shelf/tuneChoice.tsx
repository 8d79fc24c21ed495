import { useState } from 'react';
import type { TunesAnswer } from '../../protocol/index.ts';
import { wording } from '../wording/index.ts';

const { making } = wording;

/** Problems that are shown before a lesson is made; the lesson itself shows all. Ours. */
const SHOWN = 5;
/** Tunes that are listed at once; who has more searches. Ours. */
const MOST_LISTED = 200;

/** Books of more tunes than this can be searched. Ours. */
const SEARCHED = 12;

const plain = (text: string): string => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();

/** Whether a tune has all the words in its title, dance or key, accents and capitals apart. */
const answers = ({ title, dance, key }: TunesAnswer['tunes'][number], words: string): boolean => {
  const about = plain(`${title} ${dance} ${key}`);
  return plain(words)
    .split(/\s+/)
    .every((word) => about.includes(word));
};

interface ChoiceProps {
  readonly read: TunesAnswer;
  readonly chosen: readonly number[];
  readonly choose: (chosen: readonly number[]) => void;
}

/** What a file or pasted text holds, and which tunes of it become lessons. */
export const TuneChoice = ({ read, chosen, choose }: ChoiceProps) => {
  const several = read.tunes.length > 1;
  const toggle = (place: number): void =>
    choose(
      chosen.includes(place)
        ? chosen.filter((p) => p !== place)
        : [...chosen, place].toSorted((a, b) => a - b),
    );
  const [words, setWords] = useState('');
  const found = read.tunes.flatMap((tune, i) => (answers(tune, words) ? [{ tune, i }] : []));
  const usable = found.flatMap(({ tune, i }) => (tune.unusable === null ? [i] : []));
  return (
    <section className="tunes" aria-live="polite">
      <h2>{several ? making.which : making.tunes(read.tunes.length)}</h2>
      {several && (
        <p>
          <button
            type="button"
            className="word"
            onClick={() => choose([...new Set([...chosen, ...usable])].toSorted((a, b) => a - b))}
          >
            {making.all}
          </button>{' '}
          <button type="button" className="word" onClick={() => choose([])}>
            {making.noneOf}
          </button>{' '}
          <span className="quiet">{making.chosen(chosen.length)}</span>
        </p>
      )}
      {read.tunes.length > SEARCHED && (
        <label className="findTune">
          <span>{making.findTune}</span>{' '}
          <input type="search" value={words} onChange={(event) => setWords(event.target.value)} />
        </label>
      )}
      <ul>
        {found.slice(0, MOST_LISTED).map(({ tune, i }) => {
          const about = tune.unusable ?? making.about(tune.dance, tune.key, tune.bars);
          const name = tune.title === '' ? making.untitled : tune.title;
          return (
            <li key={i}>
              {several ? (
                <label className="tick">
                  <input
                    type="checkbox"
                    checked={chosen.includes(i)}
                    disabled={tune.unusable !== null}
                    onChange={() => toggle(i)}
                  />
                  <span>
                    <b>{name}</b> <span className="quiet">{about}</span>
                  </span>
                </label>
              ) : (
                <p>
                  <b>{name}</b> <span className="quiet">{about}</span>
                </p>
              )}
            </li>
          );
        })}
      </ul>
      {found.length > MOST_LISTED && <p className="quiet">{making.hidden(found.length - MOST_LISTED)}</p>}
      {read.problems.length > 0 && (
        <details>
          <summary>{making.problems(read.problems.length)}</summary>
          <ul className="problems">
            {read.problems.slice(0, SHOWN).map(({ line, column, message }) => (
              <li key={`${line}:${column}:${message}`}>{making.place(line, message)}</li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
};
