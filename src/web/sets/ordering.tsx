import { wording } from '../wording/index.ts';

const { sets } = wording;

/** A list with one thing moved by some places. */
export const moved = <T,>(things: readonly T[], from: number, by: number): readonly T[] => {
  const thing = things[from];
  const rest = things.filter((_, i) => i !== from);
  return thing === undefined ? things : rest.toSpliced(from + by, 0, thing);
};

interface OrderingProps {
  readonly title: string;
  readonly index: number;
  readonly count: number;
  /** A set keeps at least so many tunes. */
  readonly least: number;
  readonly move: (by: number) => void;
  readonly takeOut: () => void;
}

/** Words that move a tune in its set. */
export const Ordering = ({ title, index, count, least, move, takeOut }: OrderingProps) => {
  const word = (text: string, does: () => void, disabled: boolean) => (
    <button
      type="button"
      className="word"
      disabled={disabled}
      aria-label={sets.of(text, title)}
      onClick={does}
    >
      {text}
    </button>
  );
  return (
    <span className="acts">
      {word(sets.earlier, () => move(-1), index === 0)}
      {word(sets.later, () => move(1), index === count - 1)}
      {word(sets.takeOut, takeOut, count <= least)}
    </span>
  );
};
