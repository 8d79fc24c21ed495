import { formatMetre, type Key, type Metre, STEPS } from '../../music/index.ts';
import { type Bar, type BarLine, barsOf, type Event, type PlacedBar, type Score } from '../../score/index.ts';
import { type AccidentalScope, accidentalScopeIn, accidentalsIn } from './accidentals.ts';
import { writeKey } from './keyField.ts';
import { encodeLyric } from './lyrics.ts';
import { writeTempo } from './tempoField.ts';
import { fieldsBefore, fieldsBehind, type Piece, writeBarEvents, writeFieldLine } from './writeBar.ts';
import type { Hand } from './writeNote.ts';

const LINES: Readonly<Record<BarLine, string>> = {
  none: '',
  single: '|',
  double: '||',
  final: '|]',
  startHeavy: '[|',
  heavyDouble: '[||]',
  dotted: '.|',
  invisible: '[|]',
};

const sameKey = (a: Key, b: Key): boolean =>
  a === b ||
  (a.signature === b.signature &&
    a.mode === b.mode &&
    a.tonic?.step === b.tonic?.step &&
    a.tonic?.alter === b.tonic?.alter &&
    STEPS.every((step) => a.accidentals[step] === b.accidentals[step]));

const sameMetre = (a: Metre, b: Metre): boolean => formatMetre(a) === formatMetre(b);

const passesText = (passes: readonly number[]): string => {
  const isRange = passes.length > 2 && passes.every((p, i) => i === 0 || p === (passes[i - 1] ?? 0) + 1);
  return isRange ? `${passes[0]}-${passes.at(-1)}` : passes.join(',');
};

/** The tune as it grows, line by line. Mutable: one a tune written. */
interface Page {
  readonly lines: string[];
  /** The line of music that is being written. */
  current: string;
  lyrics: (string | null)[];
}

/** A line of its own: music that is not at its line's end goes on behind it. */
const ownLine = (page: Page, text: string): void => {
  if (page.current !== '') {
    page.lines.push(`${page.current}\\`);
    page.current = '';
  }
  page.lines.push(text);
};

const endLine = (page: Page): void => {
  // Behind a line of its own that the music goes around, a spacer says that the line of music ends all the same.
  page.lines.push(page.current.trim() === '' ? 'y' : page.current.trimEnd());
  page.current = '';
  while (page.lyrics.at(-1) === null) page.lyrics.pop();
  if (page.lyrics.length > 0)
    page.lines.push(`w: ${page.lyrics.map(encodeLyric).join(' ').replaceAll('- ', '-')}`);
  page.lyrics = [];
};

const put = (page: Page, piece: Piece): void => {
  if (piece.kind === 'ownLine') ownLine(page, piece.text);
  else page.current += piece.text;
};

/** Changes that hold from a bar on: on lines of their own at a line's start, between brackets inside it. */
const putChange = (page: Page, field: string): void => {
  if (page.current === '') page.lines.push(field);
  else page.current += `[${field}]`;
};

const headerLines = (score: Score): readonly string[] => [
  `X:${score.number}`,
  ...score.fields.map(writeFieldLine),
  ...(score.partOrder === null ? [] : [`P:${score.partOrder.join('')}`]),
  `M:${formatMetre(score.metre)}`,
  `L:${score.unit.den === 1 ? '1/1' : `${score.unit.num}/${score.unit.den}`}`,
  ...(score.tempo === null ? [] : [`Q:${writeTempo(score.tempo)}`]),
  `K:${writeKey(score.key)}`,
];

/** The sign between a bar and the next: the dots of both sides stand at one line where no line break comes between. */
const putBarLine = (page: Page, bar: Bar, next: Bar | undefined, apart: boolean): void => {
  const before = bar.repeatEnd > 0 ? `${':'.repeat(bar.repeatEnd)}|` : LINES[bar.line];
  const dots = next === undefined || apart ? '' : ':'.repeat(next.repeatStart);
  const joined = dots === '' || !before.endsWith('|') || bar.line === 'dotted' ? '' : dots;
  const sign = before === ':|' && joined === ':' ? '::' : before + joined;
  const space = page.current === '' || page.current.endsWith(' ') ? '' : ' ';
  if (sign !== '') page.current += `${space}${sign}`;
  if (joined === '' && dots !== '') page.current += ` |${dots}`;
  page.current += ' ';
};

/** Whether lines of their own come between a bar and the next. */
const comesApart = (bar: PlacedBar, next: PlacedBar | undefined, score: Score): boolean => {
  if (next === undefined || bar.bar.lineEnd) return true;
  if (startsNamedPart(score, next)) return true;
  return fieldsBefore(next.bar).length > 0 || next.bar.tempo !== null || !sameKey(bar.bar.key, next.bar.key);
};

const startsNamedPart = (score: Score, { part, index }: PlacedBar): boolean =>
  index === 0 && score.parts.some((p) => p.label === part && p.named);

interface Going {
  metre: Metre;
  tupletLeft: number;
  apart: boolean;
}

const putBarStart = (page: Page, hand: Hand, going: Going, placed: PlacedBar, score: Score): void => {
  const { bar, part } = placed;
  const ending = bar.ending === null ? '' : `[${passesText(bar.ending)} `;
  // Inside a line the ending comes first: where it begins inside a bar, a change before it would belong to that bar.
  const endingFirst = page.current !== '' && !startsNamedPart(score, placed);
  if (endingFirst) page.current += ending;
  if (startsNamedPart(score, placed)) ownLine(page, writeFieldLine({ code: 'P', value: part }));
  for (const piece of fieldsBefore(bar)) put(page, piece);
  if (!sameMetre(bar.metre, going.metre)) putChange(page, `M:${formatMetre(bar.metre)}`);
  if (!sameKey(bar.key, hand.key)) putChange(page, `K:${writeKey(bar.key)}`);
  if (bar.tempo !== null) putChange(page, `Q:${writeTempo(bar.tempo)}`);
  going.metre = bar.metre;
  hand.key = bar.key;
  if (bar.repeatStart > 0 && going.apart) page.current += `|${':'.repeat(bar.repeatStart)} `;
  if (!endingFirst) page.current += ending;
};

const scopeOf = (score: Score): AccidentalScope => {
  let scope: AccidentalScope = 'pitch';
  for (const { code, value } of score.fields) {
    if (code === '%%' || code === 'I') scope = accidentalScopeIn(value) ?? scope;
  }
  return scope;
};

/** A tuplet that crosses a bar line needs the events behind it. */
const MOST_CROSSING = 32;

const crossingEvents = (bars: readonly PlacedBar[], at: number): readonly Event[] => {
  const events: Event[] = [];
  for (let i = at + 1; i < bars.length && events.length < MOST_CROSSING; i += 1) {
    events.push(...(bars[i]?.bar.events ?? []));
  }
  return events;
};

/**
 * Writes one tune in ABC 2.1, from its `X:` to the last bar and what stands behind it.
 *
 * Accidentals stand only where key, bar and ties ask for them, beams and line ends as in the score, dotted pairs as
 * `A>B`. Reading what was written gives the same score.
 * @returns the text, ending with a line end
 * @see Source: The abc music standard 2.1, ed. C. Walshaw, December 2011
 */
export const writeAbc = (score: Score): string => {
  const page: Page = { lines: [...headerLines(score)], current: '', lyrics: [] };
  const hand: Hand = {
    accidentals: accidentalsIn(scopeOf(score)),
    key: score.key,
    unit: score.unit,
    lastNote: null,
  };
  const going: Going = { metre: score.metre, tupletLeft: 0, apart: true };
  const bars = barsOf(score);
  bars.forEach((placed, at) => {
    const { bar } = placed;
    const next = bars[at + 1];
    putBarStart(page, hand, going, placed, score);
    const { pieces, tupletLeft } = writeBarEvents(hand, bar, {
      crossing: crossingEvents(bars, at),
      tupletLeft: going.tupletLeft,
      isLast: next === undefined,
    });
    going.tupletLeft = tupletLeft;
    for (const piece of pieces) put(page, piece);
    for (const event of bar.events) if (event.kind === 'note') page.lyrics.push(event.lyric);
    going.apart = comesApart(placed, next, score);
    putBarLine(page, bar, next?.bar, going.apart);
    if (bar.line !== 'none' || bar.repeatEnd > 0) hand.accidentals.clear();
    if (bar.lineEnd || next === undefined) endLine(page);
    if (next === undefined) page.lines.push(...fieldsBehind(bar));
  });
  return `${page.lines.join('\n')}\n`;
};
