import { type Bar, barsOf, type PlacedBar, type Score, type Tempo } from '../../score/index.ts';
import { accidentalsToPrint } from '../printedAccidentals.ts';
import { definitionChange, scoreDefinition } from './definitions.ts';
import { type Ending, endingLabel, endingsOf } from './endings.ts';
import { measureElement, type StaffBar } from './measure.ts';
import type { MeiDocument, MeiStaff, MeiWriting } from './meiDocument.ts';
import { piecesOf } from './pieces.ts';
import { spansOf } from './spans.ts';
import { element, escapeXml } from './xml.ts';

const NAMESPACE = 'http://www.music-encoding.org/ns/mei';
const VERSION = '5.1';

interface StaffMaterial {
  readonly version: string;
  readonly bars: readonly PlacedBar[];
  readonly staffBars: readonly StaffBar[];
}

const NO_SECONDS: StaffBar['seconds'] = new Map();

const materialOf = (staff: MeiStaff): StaffMaterial => {
  const bars = barsOf(staff.score);
  const accidentals = accidentalsToPrint(bars.map((b) => b.bar));
  const pieces = bars.map((b, i) => piecesOf(staff.id, b.bar, b, accidentals[i] ?? []));
  const spans = spansOf(pieces, staff.hands);
  return {
    version: staff.id,
    bars,
    staffBars: bars.map((b, i) => ({
      version: staff.id,
      bar: b.bar,
      pieces: pieces[i] ?? [],
      spans,
      seconds: staff.hands?.seconds ?? NO_SECONDS,
    })),
  };
};

const shapeOf = (score: Score): string => score.parts.map((p) => `${p.label}:${p.bars.length}`).join(' ');

const requireSameShape = (staves: readonly MeiStaff[]): void => {
  const shapes = new Set(staves.map((s) => shapeOf(s.score)));
  if (shapes.size > 1) throw new RangeError(`versions with different bars: ${[...shapes].join(' | ')}`);
  if (new Set(staves.map((s) => s.id)).size !== staves.length)
    throw new RangeError(`two staves have one id: ${staves.map((s) => s.id).join(', ')}`);
};

const head = (document: MeiDocument): string =>
  element('meiHead', {}, [
    element('fileDesc', {}, [
      element('titleStmt', {}, [
        element('title', {}, [escapeXml(document.title)]),
        ...(document.composer === null ? [] : [element('composer', {}, [escapeXml(document.composer)])]),
      ]),
      element('pubStmt', {}),
    ]),
  ]);

const rangeOf = (writing: MeiWriting, count: number): { readonly from: number; readonly to: number } => {
  const range = writing.range ?? { from: 0, to: count };
  const { from, to } = range;
  if (!Number.isInteger(from) || !Number.isInteger(to) || from < 0 || to > count || from >= to)
    throw new RangeError(`bars ${from} to ${to} of ${count}`);
  return range;
};

const measureAt = (at: number, material: readonly StaffMaterial[], writing: Resolved): string => {
  const [top] = material;
  const placed = top?.bars[at];
  const [first, ...others] = material.flatMap((m) => m.staffBars[at] ?? []);
  if (placed === undefined || first === undefined) throw new RangeError(`no bar ${at}`);
  const bars = top?.bars ?? [];
  return measureElement([first, ...others], {
    part: placed.part,
    index: placed.index,
    at,
    first: writing.from,
    last: writing.to - 1,
    before: bars[at - 1]?.bar ?? null,
    after: bars[at + 1]?.bar ?? null,
    label: writing.labelsParts && placed.index === 0 ? placed.part : null,
    tempo: writing.writesTempo ? (placed.bar.tempo ?? (at === 0 ? writing.tempo : null)) : null,
    raisesChords: writing.raisesChords,
  });
};

interface Resolved {
  readonly from: number;
  readonly to: number;
  readonly labelsParts: boolean;
  readonly writesTempo: boolean;
  readonly raisesChords: boolean;
  /** The tune's own tempo, from its header. */
  readonly tempo: Tempo | null;
}

const endingElement = (ending: Ending, inside: readonly string[], last: number): string =>
  element(
    'ending',
    {
      n: ending.passes.join('_'),
      label: endingLabel(ending.passes),
      lendsym: ending.to > last ? 'none' : undefined,
    },
    inside,
  );

/** Measures, endings around them, changes of key and metre between them. */
const sectionElements = (
  material: readonly StaffMaterial[],
  endings: readonly Ending[],
  writing: Resolved,
): readonly string[] => {
  const bars: readonly Bar[] = material[0]?.bars.map((b) => b.bar) ?? [];
  const elements: string[] = [];
  for (let at = writing.from; at < writing.to; ) {
    const ending = endings.find((e) => e.from <= at && at <= e.to);
    const stop = Math.min(writing.to, ending === undefined ? at + 1 : ending.to + 1);
    const inside: string[] = [];
    for (; at < stop; at += 1) {
      const [before, now] = [bars[at - 1], bars[at]];
      if (at > writing.from && before !== undefined && now !== undefined)
        inside.push(...definitionChange(before, now));
      inside.push(measureAt(at, material, writing));
    }
    elements.push(...(ending === undefined ? inside : [endingElement(ending, inside, writing.to - 1)]));
  }
  return elements;
};

/**
 * A writer of one document, for those who write it range by range: beams, accidentals and curves are worked out once.
 * @throws RangeError when the staves' bars do not correspond or two staves have one id; the writer itself when a range is
 * not in the tune
 */
export const meiWriterOf = (document: MeiDocument): ((writing?: MeiWriting) => string) => {
  const [top] = document.staves;
  requireSameShape(document.staves);
  const material = document.staves.map(materialOf);
  const bars = material[0]?.bars ?? [];
  const endings = endingsOf(bars.map((b) => b.bar));
  return (writing = {}) => {
    const range = bars.length === 0 ? { from: 0, to: 0 } : rangeOf(writing, bars.length);
    const resolved: Resolved = {
      ...range,
      labelsParts: writing.labelsParts ?? true,
      writesTempo: writing.writesTempo ?? true,
      raisesChords: writing.raisesChords ?? false,
      tempo: top.score.tempo,
    };
    const start = bars[range.from]?.bar ?? top.score;
    const score = element('score', {}, [
      scoreDefinition(document.staves, start, writing.printsMetre ?? true),
      element('section', {}, [
        ...(writing.oneSystem === true ? [element('sb', {})] : []),
        ...sectionElements(material, endings, resolved),
      ]),
    ]);
    const music = element('music', {}, [element('body', {}, [element('mdiv', {}, [score])])]);
    return `<?xml version="1.0" encoding="UTF-8"?>\n${element('mei', { xmlns: NAMESPACE, meiversion: VERSION }, [head(document), music])}\n`;
  };
};

/**
 * Writes one or several versions of a tune as an MEI file, bar under bar.
 *
 * Chord symbols, endings, part labels and words stand on the top staff. Ids are those of `elementIdOf` and `barIdOf`.
 * A range of bars is written with the key and metre in force at its start; curves that come in or go out are cut at it.
 * @returns one XML document that is valid against the CMN schema of MEI 5.1; a tune without bars has an empty section
 * @throws RangeError when the staves' bars do not correspond, two staves have one id, or the range is not in the tune
 * @see Source: Music Encoding Initiative, MEI Guidelines 5.1
 */
export const writeMei = (document: MeiDocument, writing: MeiWriting = {}): string =>
  meiWriterOf(document)(writing);
