import type { ScreenLine, ScreenMusic } from '../engrave/index.ts';
import type { HandSign, PracticeData, StaySign } from '../lesson/index.ts';
import type { PlacedBar } from '../score/index.ts';
import { lineRows, type Rows } from './lineRows.ts';

/** How the music is shown. */
export interface ViewSettings {
  /** Ids of the versions that are shown: one, or two together. */
  readonly versions: readonly string[];
  readonly rows: Rows;
  /** Factor on what the page would choose; larger music has fewer bars in a line. */
  readonly size: number;
  /** Written bars, both included; null: none. */
  readonly loop: { readonly from: number; readonly to: number } | null;
}

/** What the view needs to know. */
export interface MusicSource {
  readonly data: PracticeData;
  /** Engraved with different numbers of bars in a line, for single versions and for neighbours together. */
  readonly music: readonly ScreenMusic[];
  /** Says a bar's name, and what is in it that is only seen: "Bar 3, long roll". */
  readonly nameOfBar: (bar: number) => string;
}

/** A staff that is lower than this is hard to read, in root ems: some 5 mm on most screens. Ours. */
const LEAST_STAFF = 1.5;
const STAFF = 720;

/** A line as it stands on the page. */
export interface ShownLine {
  readonly line: ScreenLine;
  readonly element: HTMLElement;
}

const rootEm = (): number => Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;

/** The music with most bars in a line whose staves are high enough; else that with the fewest. */
export const fittingMusic = (
  music: readonly ScreenMusic[],
  { versions, size }: ViewSettings,
  width: number,
): ScreenMusic | undefined => {
  const candidates = music
    .filter((m) => m.versions.join() === versions.join())
    .toSorted((a, b) => b.barsInLine - a.barsInLine);
  const least = LEAST_STAFF * rootEm() * size;
  const staffIn = (m: ScreenMusic): number => (STAFF / Math.max(...m.lines.map((l) => l.width))) * width;
  return candidates.find((m) => staffIn(m) >= least) ?? candidates.at(-1);
};

const signsElement = (signs: Readonly<Record<string, string>>): string =>
  `<svg width="0" height="0" aria-hidden="true" class="signs"><defs>${Object.entries(signs)
    .map(([id, d]) => `<path id="${id}" d="${d}" transform="scale(1 -1)"/>`)
    .join('')}</defs></svg>`;

const barButton = (line: ScreenLine, bar: number, name: string): HTMLElement => {
  const button = document.createElement('button');
  const edges = line.bars[bar - line.from];
  const left = bar === line.from ? 0 : (edges?.left ?? 0);
  const right = edges?.right ?? line.width;
  button.type = 'button';
  button.className = 'bar';
  button.dataset.bar = String(bar);
  button.style.left = `${(100 * left) / line.width}%`;
  button.style.width = `${(100 * (right - left)) / line.width}%`;
  button.setAttribute('aria-label', name);
  button.setAttribute('aria-keyshortcuts', 'L O');
  button.tabIndex = bar === 0 ? 0 : -1;
  return button;
};

const partLabel = (label: string): HTMLElement => {
  const element = document.createElement('span');
  element.className = 'part';
  element.textContent = label;
  element.setAttribute('aria-hidden', 'true');
  return element;
};

/** What the lines are drawn with. */
interface LineSource extends MusicSource {
  readonly bars: readonly PlacedBar[];
  readonly hands: ReadonlyMap<string, HandSign>;
  readonly stays: readonly StaySign[];
  readonly rows: Rows;
  readonly widest: number;
}

const lineElement = (line: ScreenLine, source: LineSource): ShownLine => {
  const { data, bars, rows, hands, stays } = source;
  const extra = lineRows(line, { hands, stays, chords: data.chords, bars, rows });
  const height = line.height + extra.above + extra.below;
  const element = document.createElement('div');
  element.className = line.part === null ? 'line' : 'line first';
  element.style.width = `${(100 * line.width) / source.widest}%`;
  // Drawn by us, words escaped: see the engraving room and `lineRows`.
  element.innerHTML = `<svg viewBox="0 ${-extra.above} ${line.width} ${height}" aria-hidden="true" focusable="false">${line.svg}${extra.svg}</svg>`;
  const parts = new Set(bars.map((b) => b.part)).size;
  if (line.part !== null && parts > 1) element.append(partLabel(line.part));
  for (let bar = line.from; bar < line.to; bar += 1)
    element.append(barButton(line, bar, source.nameOfBar(bar)));
  return { line, element };
};

/** Draws the lines of a tune into an element, in place of what was there. */
export const drawLines = (
  host: HTMLElement,
  music: ScreenMusic,
  settings: ViewSettings,
  source: MusicSource & { readonly bars: readonly PlacedBar[] },
): readonly ShownLine[] => {
  const { versions } = source.data;
  const fullest = versions.find((v) => v.id === settings.versions.at(-1)) ?? versions[0];
  const hands = new Map((fullest?.hands ?? []).map((h): [string, HandSign] => [h.key, h]));
  const widest = Math.max(...music.lines.map((l) => l.width));
  const shown = music.lines.map((line) =>
    lineElement(line, { ...source, hands, stays: fullest?.stays ?? [], widest, rows: settings.rows }),
  );
  host.innerHTML = signsElement(music.signs);
  host.append(...shown.map((s) => s.element));
  host.dataset.bars = String(music.barsInLine);
  return shown;
};

/** Shows which bars are repeated. */
export const markLoop = (host: HTMLElement, loop: ViewSettings['loop']): void => {
  for (const button of host.querySelectorAll<HTMLElement>('.bar')) {
    const bar = Number(button.dataset.bar);
    const inside = loop !== null && bar >= loop.from && bar <= loop.to;
    button.classList.toggle('looped', inside);
    button.classList.toggle('from', inside && bar === loop.from);
    button.classList.toggle('to', inside && bar === loop.to);
    button.setAttribute('aria-pressed', String(inside));
  }
};
