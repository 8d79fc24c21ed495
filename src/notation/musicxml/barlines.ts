import type { BarLine, PlacedBar } from '../../score/index.ts';
import { type XmlElement, xml, xmlText } from '../xml.ts';

/** Source: MusicXML 4.0, simple type bar-style. An ordinary line needs no element. */
const STYLES: Readonly<Record<BarLine, string | null>> = {
  single: null,
  double: 'light-light',
  final: 'light-heavy',
  heavyDouble: 'heavy-heavy',
  startHeavy: 'heavy-light',
  dotted: 'dotted',
  invisible: 'none',
  none: 'none',
};

/** Where an ending begins and stops, by index of the bar among all. */
export interface EndingSpan {
  readonly passes: readonly number[];
  readonly first: number;
  readonly last: number;
  /** Whether the bracket closes with a downward stroke: at a repeat end or a section's line. */
  readonly closed: boolean;
}

const closesSection = ({ bar }: PlacedBar): boolean =>
  bar.repeatEnd > 0 || bar.line === 'double' || bar.line === 'final' || bar.line === 'heavyDouble';

/** An ending runs to the next ending, a repeat, a section's line, or the end of its part. */
export const endingsOf = (bars: readonly PlacedBar[]): readonly EndingSpan[] =>
  bars.flatMap((placed, first) => {
    const passes = placed.bar.ending;
    if (passes === null || passes.length === 0) return [];
    let last = first;
    for (let i = first; i < bars.length; i += 1) {
      const here = bars[i];
      const next = bars[i + 1];
      last = i;
      if (here === undefined || next === undefined || closesSection(here)) break;
      if (next.bar.ending !== null || next.bar.repeatStart > 0 || next.part !== here.part) break;
    }
    const end = bars[last];
    return [{ passes, first, last, closed: end !== undefined && closesSection(end) }];
  });

const endingElement = (ending: EndingSpan, type: 'start' | 'stop' | 'discontinue'): XmlElement =>
  xml('ending', { number: ending.passes.join(', '), type });

/** The line before a bar, where there is more than the one that closed the bar before: repeat start, ending start. */
export const leftBarline = (
  { bar }: PlacedBar,
  index: number,
  endings: readonly EndingSpan[],
): XmlElement | null => {
  const ending = endings.find((e) => e.first === index);
  if (bar.repeatStart === 0 && ending === undefined) return null;
  return xml('barline', { location: 'left' }, [
    bar.repeatStart > 0 ? xmlText('bar-style', 'heavy-light') : null,
    ending === undefined ? null : endingElement(ending, 'start'),
    bar.repeatStart > 0 ? xml('repeat', { direction: 'forward' }) : null,
  ]);
};

/** The line after a bar, where it is no ordinary one. `::|` is played three times: said in `times`. */
export const rightBarline = (
  { bar }: PlacedBar,
  index: number,
  endings: readonly EndingSpan[],
): XmlElement | null => {
  const ending = endings.find((e) => e.last === index);
  const style = bar.repeatEnd > 0 ? 'light-heavy' : STYLES[bar.line];
  if (style === null && ending === undefined) return null;
  const times = bar.repeatEnd > 1 ? bar.repeatEnd + 1 : undefined;
  return xml('barline', { location: 'right' }, [
    style === null ? null : xmlText('bar-style', style),
    ending === undefined ? null : endingElement(ending, ending.closed ? 'stop' : 'discontinue'),
    bar.repeatEnd > 0 ? xml('repeat', { direction: 'backward', times }) : null,
  ]);
};
