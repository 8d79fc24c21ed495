import { type RefObject, useEffect, useRef } from 'react';
import { listenToBarKeys, listenToTouch } from '../../player/index.ts';
import type { LadderWork } from '../lesson/useWork.ts';
import { type BarRange, nameOfBar } from '../lesson/view.ts';
import { wording } from '../wording/index.ts';
import { LadderLine } from './ladderLine.tsx';
import { noteNear } from './noteNear.ts';

interface LadderProps {
  readonly host: RefObject<HTMLElement | null>;
  /** Height into which two lines should go, in pixels; null: lines are as wide as there is room. */
  readonly height: number | null;
  readonly work: LadderWork;
  /** What is shown is not what the text says now. */
  readonly stale: boolean;
  readonly chosen: BarRange | null;
  readonly choose: (range: BarRange, dragged: boolean, note: string | null) => void;
}

/** What stands over the music and between its lines, in pixels, and the least width of a line. Ours. */
const AROUND = 130;
const LEAST_WIDTH = '42rem';
/** The largest staff, in root ems: a tune of two bars is no poster. Ours. */
const MOST_STAFF = 3.2;

/** Height of a line when two are seen at once. */
const twoLinesIn = (height: number): number => Math.max(0, height - AROUND) / 2;

/** How wide the music becomes at most: as two lines are seen at once, and no staff is larger than it should be. */
const mostWidth = (lines: LadderWork['music']['lines'], height: number | null): string => {
  const widest = Math.max(...lines.map((line) => line.width));
  const tallest = Math.max(...lines.map((line) => line.height + line.above));
  const [staff] = lines[0]?.staves ?? [];
  const largest = staff === undefined ? '100%' : `${(widest * MOST_STAFF) / (staff.bottom - staff.top)}rem`;
  return height === null
    ? largest
    : `min(${largest}, max(${LEAST_WIDTH}, ${(widest * twoLinesIn(height)) / tallest}px))`;
};

/** The signs that the lines use, once for all. */
const Signs = ({ signs }: { signs: Readonly<Record<string, string>> }) => (
  <svg width="0" height="0" aria-hidden="true" className="signs">
    <defs>
      {Object.entries(signs).map(([id, d]) => (
        <path key={id} id={id} d={d} transform="scale(1 -1)" />
      ))}
    </defs>
  </svg>
);

/** The versions bar under bar, in lines. */
export const Ladder = ({ host, height, work, stale, chosen, choose }: LadderProps) => {
  const { music, bars } = work;
  const act = useRef(choose);
  act.current = choose;
  const lines = useRef(music.lines);
  lines.current = music.lines;
  useEffect(() => {
    const element = host.current;
    if (element === null) return;
    const events = {
      onBar: (bar: number, note: string | null) => act.current({ from: bar, to: bar }, false, note),
      onDrag: (from: number, to: number) => act.current({ from, to }, true, null),
    };
    listenToTouch(element, {
      noteAt: (event, bar) => {
        const line = lines.current.find(({ from, to }) => bar >= from && bar < to);
        return line === undefined ? null : noteNear(event, line);
      },
      events,
    });
    listenToBarKeys(element, events);
  }, [host]);
  const widest = Math.max(...music.lines.map((line) => line.width));
  const labelled = new Set(bars.map((bar) => bar.part)).size > 1;
  const entry = chosen?.from ?? 0;
  return (
    <section
      ref={host}
      className={stale ? 'music stale' : 'music'}
      aria-label={wording.ladder.music}
      data-bars={music.barsInLine}
      style={{ maxWidth: mostWidth(music.lines, height) }}
    >
      <Signs signs={music.signs} />
      {music.lines.map((line) => (
        <LadderLine
          key={line.from}
          line={line}
          widest={widest}
          names={bars.slice(line.from, line.to).map((_, i) => nameOfBar(bars, line.from + i))}
          labelled={labelled}
          chosen={chosen !== null && chosen.to >= line.from && chosen.from < line.to ? chosen : null}
          entry={entry >= line.from && entry < line.to ? entry : -1}
        />
      ))}
    </section>
  );
};
