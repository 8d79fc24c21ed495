import type { SetAnswer } from '../../protocol/index.ts';
import { Link } from '../link.tsx';
import { lessonAddress } from '../route.ts';
import { wording } from '../wording/index.ts';
import { Ordering } from './ordering.tsx';
import { SET_SIZE, type TuneWish } from './wishes.ts';

const { sets } = wording;

interface TuneProps {
  readonly tune: TuneWish;
  /** As the server last knew it; absent while that is under way. */
  readonly shown: SetAnswer['tunes'][number] | undefined;
  readonly index: number;
  readonly count: number;
  readonly change: (change: Partial<TuneWish>) => void;
  readonly move: (by: number) => void;
  readonly takeOut: () => void;
}

const TEMPI = { least: 10, most: 400 } as const;

/** A tempo of its own, or the lesson's where nothing is written. */
const Tempo = ({
  label,
  value,
  usual,
  set,
}: {
  readonly label: string;
  readonly value: number | null;
  readonly usual: number;
  readonly set: (tempo: number | null) => void;
}) => (
  <div className="field">
    <label>
      <span>{label}</span>{' '}
      <input
        type="number"
        inputMode="numeric"
        min={TEMPI.least}
        max={TEMPI.most}
        key={value ?? ''}
        defaultValue={value ?? ''}
        placeholder={String(Math.round(usual))}
        onBlur={({ target }) => {
          const written = target.value.trim() === '' ? null : Number(target.value);
          const wanted =
            written === null || !Number.isFinite(written)
              ? null
              : Math.min(TEMPI.most, Math.max(TEMPI.least, written));
          target.value = wanted === null ? '' : String(wanted);
          if (wanted !== value) set(wanted);
        }}
      />
    </label>
    <p className="quiet">{sets.usual(usual)}</p>
  </div>
);

/** One tune of a set: which it is, how often, how fast. */
export const TuneInSet = ({ tune, shown, index, count, change, move, takeOut }: TuneProps) => {
  const title = shown?.title ?? tune.lesson;
  return (
    <section className="tune" aria-label={title}>
      <h2>
        {index + 1}. <Link to={lessonAddress(tune.lesson)}>{title}</Link>{' '}
        <span className="quiet">{shown?.about}</span>
      </h2>
      <Ordering {...{ title, index, count, move, takeOut }} least={SET_SIZE.least} />
      <div className="fields">
        <div className="field">
          <label>
            <span>{sets.times}</span>{' '}
            <select value={tune.times} onChange={({ target }) => change({ times: Number(target.value) })}>
              {[1, 2, 3, 4, 5, 6, 7, 8, 9].map((times) => (
                <option key={times} value={times}>
                  {times}
                </option>
              ))}
            </select>
          </label>
        </div>
        {shown?.usual != null && (
          <>
            <Tempo
              label={sets.upToSpeed(shown.usual.beat)}
              value={tune.upToSpeed}
              usual={shown.usual.upToSpeed}
              set={(upToSpeed) => change({ upToSpeed })}
            />
            <Tempo
              label={sets.steady(shown.usual.beat)}
              value={tune.steady}
              usual={shown.usual.steady}
              set={(steady) => change({ steady })}
            />
          </>
        )}
      </div>
    </section>
  );
};
