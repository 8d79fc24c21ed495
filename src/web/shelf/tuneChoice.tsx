import type { TunesAnswer } from '../../protocol/index.ts';
import { wording } from '../wording/index.ts';

const { making } = wording;

/** Problems that are shown before a lesson is made; the lesson itself shows all. Ours. */
const SHOWN = 5;

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
  const all = read.tunes.flatMap((tune, i) => (tune.unusable === null ? [i] : []));
  return (
    <section className="tunes" aria-live="polite">
      <h2>{several ? making.which : making.tunes(read.tunes.length)}</h2>
      {several && (
        <p>
          <button type="button" className="word" onClick={() => choose(all)}>
            {making.all}
          </button>{' '}
          <button type="button" className="word" onClick={() => choose([])}>
            {making.noneOf}
          </button>
        </p>
      )}
      <ul>
        {read.tunes.map((tune, i) => {
          const about = tune.unusable ?? making.about(tune.dance, tune.key, tune.bars);
          const name = tune.title === '' ? making.untitled : tune.title;
          return (
            // biome-ignore lint/suspicious/noArrayIndexKey: the place in the file is what names a tune
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
