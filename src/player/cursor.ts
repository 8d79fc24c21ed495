import type { ScreenLine } from '../engrave/index.ts';
import { elementIdOf } from '../notation/index.ts';
import type { ShownLine } from './musicLines.ts';
import type { Position } from './player.ts';

/** Where the cursor stands before a bar's first note, when nothing says better: a staff's height into the bar. */
const INTO_BAR = 720;

/** x in a line at a moment of a bar: from note to note, and on to the end of the bar. */
const placeIn = (
  line: ScreenLine,
  bar: number,
  position: Position,
): { readonly x: number; readonly sounding: number } => {
  const edges = line.bars[bar - line.from];
  const notes = new Map(line.staves.flatMap((s) => s.notes));
  const points = position.anchors.flatMap((a, i) => {
    const x = notes.get(a.key);
    return x === undefined ? [] : [{ at: a.at, x, anchor: i }];
  });
  const left = points[0]?.x ?? edges?.left ?? 0;
  const right = edges?.right ?? line.width;
  const sounding = points.findLastIndex((p) => p.at <= position.since);
  const here = points[sounding] ?? {
    at: 0,
    x: Math.min(left, (edges?.left ?? 0) + INTO_BAR / 2),
    anchor: -1,
  };
  const next = points[sounding + 1] ?? { at: position.length, x: right };
  const span = Math.max(1e-6, next.at - here.at);
  const share = Math.min(1, Math.max(0, (position.since - here.at) / span));
  return { x: here.x + share * (next.x - here.x), sounding: here.anchor };
};

/** The line that goes with the sound, and the notes that light up. */
export interface Cursor {
  /** Puts it at the sound in a line. */
  readonly put: (target: ShownLine, bar: number, position: Position, versions: readonly string[]) => void;
  readonly hide: () => void;
  readonly at: () => { readonly bar: number; readonly x: number } | null;
}

/** Makes the cursor. */
export const cursorOf = (): Cursor => {
  const element = document.createElement('div');
  element.className = 'cursor';
  element.hidden = true;
  let lit: readonly Element[] = [];
  let at: { readonly bar: number; readonly x: number } | null = null;
  const unlight = (): void => {
    for (const note of lit) note.classList.remove('sounding');
    lit = [];
  };
  const light = (ids: readonly string[]): void => {
    if (lit[0]?.isConnected === true && lit[0].id === ids[0]) return;
    unlight();
    lit = ids.flatMap((id) => document.getElementById(id) ?? []);
    for (const note of lit) note.classList.add('sounding');
  };
  return {
    put: (target, bar, position, versions) => {
      if (element.parentElement !== target.element) target.element.append(element);
      const { x, sounding } = placeIn(target.line, bar, position);
      at = { bar, x };
      element.hidden = false;
      element.classList.toggle('yours', position.yours);
      element.style.left = `${(100 * x) / target.line.width}%`;
      const address = position.anchors[sounding]?.address;
      light(address === undefined ? [] : versions.map((v) => elementIdOf(v, address)));
    },
    hide: () => {
      element.hidden = true;
      at = null;
      unlight();
    },
    at: () => at,
  };
};
