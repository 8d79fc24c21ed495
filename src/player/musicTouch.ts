/** What the learner does with the music. Bars are counted through all parts. */
export interface MusicEvents {
  /** A bar was touched; `note` is the key of the note that was. */
  readonly onBar: (bar: number, note: string | null) => void;
  /** Bars were dragged over. */
  readonly onDrag: (from: number, to: number) => void;
}

/** Dragging begins after so many pixels; less is a touch. */
const DRAG_FROM = 10;
/** A touch that comes so soon after a drag is its end, milliseconds. */
const AFTER_DRAG = 300;

const barAt = (event: PointerEvent): HTMLElement | null =>
  document.elementFromPoint(event.clientX, event.clientY)?.closest<HTMLElement>('.bar') ?? null;

/** What is told, and how a touched note is found. */
export interface Pointing {
  /** Key of the note that was touched in a bar. */
  readonly noteAt: (event: MouseEvent, bar: number) => string | null;
  readonly events: MusicEvents;
}

/** Touch and drag. A finger that goes up or down scrolls, as everywhere; one that goes sideways chooses bars. */
export const listenToTouch = (host: HTMLElement, { noteAt, events }: Pointing): void => {
  let down: { bar: number; x: number; y: number; dragging: boolean; to: number } | null = null;
  host.addEventListener('pointerdown', (event) => {
    const bar = barAt(event)?.dataset.bar;
    if (bar === undefined || event.button !== 0) return;
    down = { bar: Number(bar), x: event.clientX, y: event.clientY, dragging: false, to: Number(bar) };
  });
  host.addEventListener('pointermove', (event) => {
    if (down === null) return;
    const far = Math.abs(event.clientX - down.x);
    if (!down.dragging && far < DRAG_FROM + Math.abs(event.clientY - down.y) / 2) return;
    down.dragging = true;
    const to = Number(barAt(event)?.dataset.bar ?? down.to);
    const [low, high] = [Math.min(down.bar, to), Math.max(down.bar, to)];
    down.to = to;
    for (const button of host.querySelectorAll<HTMLElement>('.bar')) {
      const bar = Number(button.dataset.bar);
      button.classList.toggle('chosen', bar >= low && bar <= high);
    }
  });
  const end = (kept: boolean): void => {
    const was = down;
    down = null;
    for (const button of host.querySelectorAll('.chosen')) button.classList.remove('chosen');
    if (was?.dragging !== true) return;
    justDragged = performance.now();
    if (kept) events.onDrag(Math.min(was.bar, was.to), Math.max(was.bar, was.to));
  };
  let justDragged = Number.NEGATIVE_INFINITY;
  host.addEventListener('pointerup', () => end(true));
  host.addEventListener('pointercancel', () => end(false));
  host.addEventListener('click', (event) => {
    const bar = (event.target as Element).closest<HTMLElement>('.bar')?.dataset.bar;
    if (bar === undefined || performance.now() - justDragged < AFTER_DRAG) return;
    events.onBar(Number(bar), noteAt(event, Number(bar)));
  });
};

/** Arrow keys go from bar to bar; with shift they choose bars to repeat. */
export const listenToBarKeys = (host: HTMLElement, events: MusicEvents): void => {
  let anchor: number | null = null;
  host.addEventListener('keydown', (event) => {
    const bar = (event.target as Element).closest<HTMLElement>('.bar')?.dataset.bar;
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (bar === undefined || step === undefined) return;
    const next = host.querySelector<HTMLElement>(`.bar[data-bar="${Number(bar) + step}"]`);
    event.preventDefault();
    event.stopPropagation();
    if (next === null) return;
    for (const button of host.querySelectorAll<HTMLElement>('.bar')) button.tabIndex = -1;
    next.tabIndex = 0;
    next.focus();
    if (!event.shiftKey) {
      anchor = null;
      return;
    }
    anchor ??= Number(bar);
    const to = Number(next.dataset.bar);
    events.onDrag(Math.min(anchor, to), Math.max(anchor, to));
  });
};
