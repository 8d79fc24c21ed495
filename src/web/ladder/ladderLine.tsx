import { memo, useMemo } from 'react';
import type { BarRange } from '../lesson/view.ts';
import type { LadderLine as DrawnLine } from '../workroom/messages.ts';

interface LineProps {
  readonly line: DrawnLine;
  readonly widest: number;
  readonly names: readonly string[];
  /** The part's label is printed where there are several parts. */
  readonly labelled: boolean;
  readonly chosen: BarRange | null;
  /** The bar that the keyboard comes to first. */
  readonly entry: number;
}

const Drawing = memo(({ line }: Pick<LineProps, 'line'>) => {
  const svg = useMemo(() => ({ __html: line.svg }), [line]);
  return (
    <svg
      viewBox={`0 ${-line.above} ${line.width} ${line.height + line.above}`}
      aria-hidden="true"
      focusable="false"
      // biome-ignore lint/security/noDangerouslySetInnerHtml: drawn by us, words escaped by the engraving room
      dangerouslySetInnerHTML={svg}
    />
  );
});

const classOf = (bar: number, chosen: BarRange | null): string => {
  if (chosen === null || bar < chosen.from || bar > chosen.to) return 'bar';
  return `bar looped${bar === chosen.from ? ' from' : ''}${bar === chosen.to ? ' to' : ''}`;
};

/** One line of the ladder: the staves of all shown versions, and a button over each bar. */
export const LadderLine = memo(({ line, widest, names, labelled, chosen, entry }: LineProps) => {
  const whole = line.height + line.above;
  const staves = {
    '--top': `${(100 * ((line.staves[0]?.top ?? 0) + line.above)) / whole}%`,
    '--bottom': `${100 - (100 * ((line.staves.at(-1)?.bottom ?? line.height) + line.above)) / whole}%`,
  };
  const bars = Array.from({ length: line.to - line.from }, (_, i) => line.from + i);
  return (
    <div
      className={line.part === null ? 'line' : 'line first'}
      style={{ width: `${(100 * line.width) / widest}%` }}
    >
      <Drawing line={line} />
      {line.part !== null && labelled && (
        <span className="part" aria-hidden="true">
          {line.part}
        </span>
      )}
      {bars.map((bar, i) => {
        const left = i === 0 ? 0 : (line.bars[i]?.left ?? 0);
        const right = line.bars[i]?.right ?? line.width;
        const isChosen = chosen !== null && bar >= chosen.from && bar <= chosen.to;
        return (
          <button
            key={bar}
            type="button"
            className={classOf(bar, chosen)}
            data-bar={bar}
            aria-label={names[i] ?? ''}
            aria-pressed={isChosen}
            tabIndex={bar === entry ? 0 : -1}
            style={{
              ...staves,
              left: `${(100 * left) / line.width}%`,
              width: `${(100 * (right - left)) / line.width}%`,
            }}
          />
        );
      })}
    </div>
  );
});
