import type { Bar, Tempo } from '../../score/index.ts';
import { isFull } from '../../score/index.ts';
import { chordControls, noteControls, tempoControl, textControls, timestampOf } from './controls.ts';
import { barIdOf, elementIdOf } from './elementId.ts';
import { layerElements } from './layer.ts';
import { isBarRest, type Piece } from './pieces.ts';
import type { Span } from './spans.ts';
import { type Attributes, element, escapeXml } from './xml.ts';

/** One bar on one staff. */
export interface StaffBar {
  readonly version: string;
  readonly bar: Bar;
  readonly pieces: readonly Piece[];
  /** Curves and brackets of the whole staff. */
  readonly spans: readonly Span[];
  /** Which second finger a note bears, by its address; see `MeiHands`. */
  readonly seconds: ReadonlyMap<string, 'low' | 'high'>;
}

/** Where a bar stands. */
export interface MeasurePlace {
  readonly part: string;
  /** Index in its part. */
  readonly index: number;
  /** Count through all parts, and the first and the last of the bars that are written. */
  readonly at: number;
  readonly first: number;
  readonly last: number;
  readonly before: Bar | null;
  readonly after: Bar | null;
  /** Printed over its start; null: nothing is. */
  readonly label: string | null;
  /** Written at its start. */
  readonly tempo: Tempo | null;
  readonly raisesChords: boolean;
}

/** @right of our bar lines. Source: MEI 5.1, data.BARRENDITION; a thick line before a thin one has no name there. */
const LINES: Readonly<Record<Bar['line'], string>> = {
  single: 'single',
  double: 'dbl',
  final: 'end',
  heavyDouble: 'dblheavy',
  startHeavy: 'dbl',
  dotted: 'dotted',
  invisible: 'invis',
  none: 'invis',
};

const rightLine = (bar: Bar, place: MeasurePlace): string => {
  const startsNext = place.at < place.last && (place.after?.repeatStart ?? 0) > 0;
  if (bar.repeatEnd > 0) return startsNext ? 'rptboth' : 'rptend';
  return LINES[bar.line];
};

const leftLine = (bar: Bar, place: MeasurePlace): string | undefined => {
  if (bar.repeatStart === 0) return undefined;
  const joined = place.at > place.first && (place.before?.repeatEnd ?? 0) > 0;
  return joined ? undefined : 'rptstart';
};

/** A little before the bar line: where a curve leaves for bars that are not written here. */
const BEFORE_THE_LINE = 0.9;

const endOfBars = (bar: Bar, place: MeasurePlace): string => {
  const beats = bar.metre.kind === 'free' ? 1 : bar.metre.count;
  return `${place.last - place.at}m+${beats + BEFORE_THE_LINE}`;
};

/** A bracket's hooks point down to its notes. Source: MEI 5.1, bracketSpan. */
const BRACKET: Attributes = {
  func: 'unspecified',
  lform: 'solid',
  lstartsym: 'angledown',
  lendsym: 'angledown',
};

const spanElement = (kind: Span['kind'], ends: Attributes): string =>
  kind === 'bracket' ? element('bracketSpan', { ...ends, ...BRACKET }) : element(kind, ends);

/** Curves and brackets that begin in this bar, or come into the first bar from before it. */
const spanControls = (staffBar: StaffBar, staff: number, place: MeasurePlace): readonly string[] =>
  staffBar.spans.flatMap((span) => {
    const begins = span.from.bar === place.at;
    const comesIn = place.at === place.first && span.from.bar < place.at && span.to.bar >= place.at;
    if (!begins && !comesIn) return [];
    const leaves = span.to.bar > place.last;
    const start: Attributes = begins ? { startid: `#${span.from.id}` } : { tstamp: 0 };
    const end: Attributes = leaves
      ? { tstamp2: endOfBars(staffBar.bar, place) }
      : { endid: `#${span.to.id}` };
    return [spanElement(span.kind, { staff, ...start, ...end })];
  });

const staffElement = (staffBar: StaffBar, n: number, place: MeasurePlace): string => {
  const { bar, pieces, version } = staffBar;
  const [first] = pieces;
  const content =
    isBarRest(bar) && first !== undefined
      ? [element('mRest', { 'xml:id': first.id })]
      : pieces.length === 0
        ? [
            element('space', {
              'xml:id': elementIdOf(version, { part: place.part, bar: place.index, onset: ORIGIN }),
              dur: 4,
            }),
          ]
        : layerElements(pieces, version);
  return element('staff', { n }, [element('layer', { n: 1 }, content)]);
};

const ORIGIN = { num: 0, den: 1 } as Piece['address']['onset'];

/** One bar, all staves under each other, as a measure. */
export const measureElement = (
  staffBars: readonly [StaffBar, ...StaffBar[]],
  place: MeasurePlace,
): string => {
  const [top] = staffBars;
  const { bar } = top;
  const irregular = bar.role !== 'full' || !isFull(bar);
  return element(
    'measure',
    {
      'xml:id': barIdOf(place.part, place.index),
      n: bar.number ?? undefined,
      metcon: irregular ? 'false' : undefined,
      left: leftLine(bar, place),
      right: rightLine(bar, place),
    },
    [
      ...staffBars.map((s, i) => staffElement(s, i + 1, place)),
      ...(place.label === null
        ? []
        : [
            element('reh', { staff: 1, tstamp: timestampOf(bar, ORIGIN), place: 'above' }, [
              escapeXml(place.label),
            ]),
          ]),
      ...tempoControl(place.tempo, 1),
      ...chordControls(bar, top.pieces, place.raisesChords),
      ...textControls(bar, top.pieces, 1),
      ...staffBars.flatMap((s, i) => [
        ...noteControls(s.pieces, i + 1, s.seconds),
        ...spanControls(s, i + 1, place),
      ]),
    ],
  );
};
