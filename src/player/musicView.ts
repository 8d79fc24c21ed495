import type { ScreenMusic } from '../engrave/index.ts';
import { barsOf, playedOrder } from '../score/index.ts';
import { cursorOf } from './cursor.ts';
import {
  drawLines,
  fittingMusic,
  type MusicSource,
  markLoop,
  type ShownLine,
  type ViewSettings,
} from './musicLines.ts';
import { listenToBarKeys, listenToTouch, type MusicEvents } from './musicTouch.ts';
import type { Position } from './player.ts';

/** The engraved music on the page. */
export interface MusicView {
  readonly show: (settings: ViewSettings) => void;
  /** Puts the cursor where the sound is; null: takes it away. */
  readonly follow: (position: Position | null) => void;
  /** Where the cursor stands, for tests: line, x in drawing units. */
  readonly cursorAt: () => { readonly bar: number; readonly x: number } | null;
  /** The written bar at the top of what is seen. */
  readonly barInView: () => number;
  readonly scrollTo: (bar: number) => void;
}

/** A note is touched within so many drawing units of the middle of its head. */
const NEAR_NOTE = 420;
const HALF_HEAD = 120;
/** A line that sounds is kept between these shares of the screen's height, and put there when it is not. Ours. */
const KEPT = { top: 0.08, bottom: 0.62, to: 0.2 } as const;

const reducedMotion = (): boolean => matchMedia('(prefers-reduced-motion: reduce)').matches;

const scrollToLine = ({ element }: ShownLine): void => {
  const box = element.getBoundingClientRect();
  if (box.top > KEPT.top * innerHeight && box.bottom < KEPT.bottom * innerHeight) return;
  scrollTo({
    top: scrollY + box.top - KEPT.to * innerHeight,
    behavior: reducedMotion() ? 'auto' : 'smooth',
  });
};

/** The note that a touch is nearest to; null: none is near. */
const noteAt = (event: MouseEvent, target: ShownLine | undefined): string | null => {
  if (target === undefined || event.detail === 0) return null;
  const box = target.element.getBoundingClientRect();
  const x = ((event.clientX - box.left) / box.width) * target.line.width;
  const near = target.line.staves
    .flatMap((s) => s.notes)
    .map(([key, left]) => ({ key, off: Math.abs(left + HALF_HEAD - x) }))
    .toSorted((a, b) => a.off - b.off)[0];
  return near !== undefined && near.off < NEAR_NOTE ? near.key : null;
};

/** The written bar of each place in the played order. */
const writtenBarsOf = ({ data }: MusicSource) => {
  const [first] = data.versions;
  if (first === undefined) throw new RangeError('a lesson has at least one version');
  const bars = barsOf(first.score);
  const at = new Map(bars.map((b, i) => [`${b.part}/${b.index}`, i]));
  const order = playedOrder(first.score).map((b) => at.get(`${b.part}/${b.bar}`) ?? 0);
  return { bars, order };
};

/** Notes which bar the keyboard is at; what is returned brings it back there when the bars have been drawn anew. */
const keyboardIn = (host: HTMLElement): (() => void) => {
  const focused = host.querySelector<HTMLElement>('.bar:focus');
  const at = (focused ?? host.querySelector<HTMLElement>('.bar[tabindex="0"]'))?.dataset.bar;
  return () => {
    const button = host.querySelector<HTMLElement>(`.bar[data-bar="${at}"]`);
    if (button === null) return;
    for (const other of host.querySelectorAll<HTMLElement>('.bar')) other.tabIndex = -1;
    button.tabIndex = 0;
    if (focused !== null) button.focus({ preventScroll: true });
  };
};

/** Builds the view into an element. */
export const musicViewOf = (host: HTMLElement, source: MusicSource, events: MusicEvents): MusicView => {
  const { bars, order } = writtenBarsOf(source);
  const cursor = cursorOf();
  let settings: ViewSettings | null = null;
  let shown: readonly ShownLine[] = [];
  let drawn: { readonly music: ScreenMusic; readonly rows: string } | null = null;
  let sounding: ShownLine | null = null;

  const lineOf = (bar: number): ShownLine | undefined =>
    shown.find(({ line }) => bar >= line.from && bar < line.to);

  const show = (next: ViewSettings): void => {
    settings = next;
    const music = fittingMusic(source.music, next, host.clientWidth);
    const rows = JSON.stringify(next.rows);
    if (music !== undefined && (drawn?.music !== music || drawn.rows !== rows)) {
      drawn = { music, rows };
      const putBack = keyboardIn(host);
      shown = drawLines(host, music, next, { ...source, bars });
      putBack();
      sounding = null;
    }
    markLoop(host, next.loop);
  };

  const follow = (position: Position | null): void => {
    const bar = position === null ? undefined : order[position.index];
    const target = bar === undefined ? undefined : lineOf(bar);
    if (position === null || bar === undefined || target === undefined) {
      cursor.hide();
      return;
    }
    if (sounding !== target) scrollToLine(target);
    sounding = target;
    cursor.put(target, bar, position, settings?.versions ?? []);
  };

  listenToTouch(host, { noteAt: (event, bar) => noteAt(event, lineOf(bar)), events });
  listenToBarKeys(host, events);
  new ResizeObserver(() => {
    if (settings !== null) show(settings);
  }).observe(host);

  return {
    show,
    follow,
    cursorAt: cursor.at,
    barInView: () =>
      shown.find(({ element }) => element.getBoundingClientRect().bottom > 0.15 * innerHeight)?.line.from ??
      0,
    scrollTo: (bar) => {
      const target = lineOf(bar);
      if (target !== undefined) scrollToLine(target);
    },
  };
};
