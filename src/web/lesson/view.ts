import { useCallback, useState } from 'react';
import { wording } from '../wording/index.ts';
import type { BarPlace } from '../workroom/messages.ts';

/** What is open beside the music. */
export type PanelName = 'bar' | 'text' | 'settings' | 'words' | 'pack' | 'earlier' | 'keys';

/** Written bars, both included, counted through all parts. */
export interface BarRange {
  readonly from: number;
  readonly to: number;
}

/** How a lesson is looked at and listened to: remembered for each lesson in this browser. */
export interface View {
  /** Versions whose staves are hidden. */
  readonly hidden: readonly string[];
  /** Versions that are heard; empty: the simplest. */
  readonly heard: readonly string[];
  readonly size: number;
  /** Tempo in hundredths of up to speed; 0: to learn. */
  readonly percent: number;
  readonly countIn: boolean;
  readonly fiddle: number;
  readonly backing: number;
  readonly click: number;
  readonly chosen: BarRange | null;
  /** Key of the note that was pointed at; null: none was. */
  readonly note: string | null;
  /** The chosen bars are played round and round. */
  readonly looping: boolean;
  readonly panel: PanelName | null;
}

const FIRST: View = {
  hidden: [],
  heard: [],
  size: 1,
  percent: 0,
  countIn: true,
  fiddle: 1,
  backing: 0.7,
  click: 0,
  chosen: null,
  note: null,
  looping: false,
  panel: null,
};

const isLike = (value: unknown, model: unknown): boolean =>
  Array.isArray(model)
    ? Array.isArray(value) && value.every((v) => typeof v === 'string')
    : typeof value === typeof model;

/** What of it is remembered. */
const FIELDS = ['hidden', 'heard', 'size', 'percent', 'countIn', 'fiddle', 'backing', 'click'] as const;

const viewIn = (text: string | null): View => {
  try {
    const kept = JSON.parse(text ?? 'null') as Record<string, unknown> | null;
    const fields = FIELDS.filter((name) => kept !== null && isLike(kept[name], FIRST[name]));
    return { ...FIRST, ...Object.fromEntries(fields.map((name) => [name, kept?.[name]])) };
  } catch {
    return FIRST;
  }
};

/** A lesson's view, and how to change it. */
export const useView = (id: string): readonly [View, (next: Partial<View>) => void] => {
  const place = `view/${id}`;
  const [view, setView] = useState<View>(() => {
    try {
      return viewIn(localStorage.getItem(place));
    } catch {
      return FIRST;
    }
  });
  const change = useCallback(
    (next: Partial<View>): void =>
      setView((before) => {
        const now = { ...before, ...next };
        try {
          localStorage.setItem(place, JSON.stringify(Object.fromEntries(FIELDS.map((f) => [f, now[f]]))));
        } catch {
          // A browser without storage forgets.
        }
        return now;
      }),
    [place],
  );
  return [view, change];
};

/** "Bar 3", "Pick-up of part A". */
export const nameOfBar = (bars: readonly BarPlace[], at: number): string => {
  const bar = bars[at];
  if (bar === undefined) return '';
  if (bar.number !== null) return wording.ladder.bar(String(bar.number));
  return bar.role === 'pickup' ? wording.ladder.pickup(bar.part) : wording.ladder.restOfBar(bar.part);
};

/** "Bar 3 to bar 6". */
export const nameOfBars = (bars: readonly BarPlace[], { from, to }: BarRange): string =>
  wording.ladder.bars(nameOfBar(bars, from), nameOfBar(bars, to));
