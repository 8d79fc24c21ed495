import type { BarLine } from '../../../score/index.ts';
import type { XmlElement } from '../../xml.ts';
import { attributeOf, childrenNamed, elementAt, textAt } from '../../xmlTree.ts';

/** The lines around a measure, and the ending that starts there. */
export interface Barlines {
  readonly repeatStart: number;
  readonly repeatEnd: number;
  readonly line: BarLine;
  readonly ending: readonly number[] | null;
}

/** Source: MusicXML 4.0, simple type bar-style. */
const LINES: Readonly<Record<string, BarLine>> = {
  'light-light': 'double',
  'light-heavy': 'final',
  'heavy-heavy': 'heavyDouble',
  'heavy-light': 'startHeavy',
  heavy: 'final',
  dotted: 'dotted',
  dashed: 'dotted',
  none: 'invisible',
};
/** No tune is played so often. Ours. */
const MOST_TIMES = 20;

/** "1, 3" as passes; empty where no number is said. */
const passesOf = (text: string): readonly number[] =>
  text
    .split(',')
    .map((n) => Number(n.trim()))
    .filter((n) => Number.isInteger(n) && n >= 1 && n <= MOST_TIMES);

const repeatIn = (line: XmlElement | undefined, direction: string): XmlElement | null => {
  const repeat = line === undefined ? null : elementAt(line, 'repeat');
  return repeat !== null && attributeOf(repeat, 'direction') === direction ? repeat : null;
};

const endingIn = (line: XmlElement | undefined): readonly number[] | null => {
  const ending = line === undefined ? null : elementAt(line, 'ending');
  if (ending === null || attributeOf(ending, 'type') !== 'start') return null;
  const passes = passesOf(attributeOf(ending, 'number') ?? '');
  return passes.length === 0 ? null : passes;
};

/** How often a backward repeat sends back: once, unless it says how often the stretch is played. */
const timesBack = (repeat: XmlElement): number => {
  const times = Number(attributeOf(repeat, 'times') ?? 2);
  return Number.isInteger(times) && times >= 2 && times <= MOST_TIMES ? times - 1 : 1;
};

/** What a measure's `barline` elements say. */
export const barlinesOf = (measure: XmlElement): Barlines => {
  const lines = childrenNamed(measure, 'barline');
  const left = lines.find((l) => attributeOf(l, 'location') === 'left');
  const right = lines.find((l) => (attributeOf(l, 'location') ?? 'right') === 'right');
  const back = repeatIn(right, 'backward');
  const style = right === undefined ? null : textAt(right, 'bar-style');
  return {
    repeatStart: repeatIn(left, 'forward') === null ? 0 : 1,
    repeatEnd: back === null ? 0 : timesBack(back),
    line: back === null ? (LINES[style ?? ''] ?? 'single') : 'single',
    ending: endingIn(left),
  };
};
