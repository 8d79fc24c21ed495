import { compare, toNumber, type WholeNotes } from '../../src/core/index.ts';
import { formatMetre, type Key, type Metre, midiOf, STEPS } from '../../src/music/index.ts';
import { readKey } from '../../src/notation/abc/keyField.ts';
import { readMetre } from '../../src/notation/abc/metreField.ts';
import type { ReadTune } from '../../src/notation/index.ts';
import { addressKey, type Bar, barsOf, placedEvents } from '../../src/score/index.ts';
import { barText, type NoteFact, type TuneFacts } from './facts.ts';

const LINES: Readonly<Record<Bar['line'], string>> = {
  none: '',
  single: '|',
  double: '||',
  final: '|]',
  heavyDouble: '[||]',
  startHeavy: '[|',
  dotted: '.|',
  invisible: '[|]',
};

const keyText = (key: Key): string =>
  STEPS.filter((s) => key.accidentals[s] !== 0)
    .map((s) => s + (key.accidentals[s] > 0 ? '#' : 'b').repeat(Math.abs(key.accidentals[s])))
    .sort()
    .join(' ');

const metreText = (metre: Metre): string =>
  metre.kind === 'measured' && metre.groups === undefined
    ? `${metre.count}/${metre.unit}`
    : formatMetre(metre).replaceAll(/[()]/g, '');

/** A change of key or metre inside a bar holds from there on. */
const inForce = (bar: Bar, code: 'K' | 'M', onset: WholeNotes): string => {
  const changes = bar.fields.filter((f) => f.code === code && compare(f.onset, onset) <= 0);
  const last = changes.at(-1)?.value;
  if (code === 'K') return keyText((last === undefined ? null : readKey(last).key) ?? bar.key);
  return metreText((last === undefined ? null : readMetre(last)) ?? bar.metre);
};

/** A tune as we read it, offsets from the tune's own start. */
export const ourFacts = (tune: ReadTune): TuneFacts => {
  const notes: NoteFact[] = [];
  let line = '';
  let repeatEnd = false;
  for (const { bar, part, index } of barsOf(tune.score)) {
    placedEvents(bar).forEach(({ event, onset }, i) => {
      const span = tune.spans.get(addressKey({ part, bar: index, onset }));
      const first = i === 0;
      notes.push({
        start: (span?.start ?? 0) - tune.span.start,
        end: (span?.end ?? 0) - tune.span.start,
        pitches: event.kind === 'rest' ? [] : event.pitches.map(midiOf).sort((a, b) => a - b),
        length: toNumber(event.length),
        tied: event.kind === 'note' && event.tiedToNext,
        tuplet: event.tuplet === null ? '' : `${event.tuplet.actual}:${event.tuplet.normal}`,
        graces: event.kind === 'note' ? (event.graces?.pitches ?? []).map(midiOf) : [],
        key: inForce(bar, 'K', onset),
        metre: inForce(bar, 'M', onset),
        bar: first ? barText(line, repeatEnd, bar.repeatStart > 0) : '',
        ending: first ? (bar.ending?.join(',') ?? '') : '',
      });
    });
    line = LINES[bar.line];
    repeatEnd = bar.repeatEnd > 0;
  }
  return { notes, closing: barText(line, repeatEnd, false) };
};
