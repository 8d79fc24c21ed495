import { equals } from '../../../core/index.ts';
import type { Address } from '../../../score/index.ts';
import { chordOf } from '../chordText.ts';
import { isPlaceSign } from '../placing.ts';
import { encodeQuoted } from '../text.ts';
import { type EditProblem, problem } from './noteEdit.ts';
import { type Plan, planOf, type Source, withBar } from './plan.ts';
import { eventAt, placeBefore, type WrittenEvent } from './writtenEvent.ts';

const writtenChords = ({ signs }: WrittenEvent): WrittenEvent['signs']['texts'] =>
  signs.texts.filter(({ text }) => !isPlaceSign(text.charAt(0)) && chordOf(text) !== null);

/** The chord symbol over a note or rest put, changed, or taken away. */
export const chordPlan = (source: Source, at: Address, text: string | null): Plan | EditProblem => {
  const found = eventAt(source, at);
  if (found.kind === 'problem') return found;
  const { score } = source.tune;
  const { onset } = found;
  const chord = text === null ? null : chordOf(text);
  if (text !== null && (chord === null || isPlaceSign(text.charAt(0))))
    return problem(`“${text}” is no chord that is known here. Write it as in G, Em or D7.`);
  const here = found.barRead.chords.filter((c) => equals(c.onset, onset));
  if (here.length === (text === null ? 0 : 1) && (text === null || here[0]?.text === text))
    return planOf(score, [[]]);
  const written = writtenChords(found);
  if (written.length !== here.length)
    return problem(
      'This chord is not written at the note but in the line s: below the music or behind &. Change it there.',
    );
  const expected = withBar(score, found, (bar) => {
    const others = bar.chords.filter((c) => !equals(c.onset, onset));
    const added = text === null || chord === null ? others : [...others, { onset, chord, text }];
    return {
      ...bar,
      chords: added.toSorted((a, b) => a.onset.num * b.onset.den - b.onset.num * a.onset.den),
    };
  });
  const [first, ...more] = written;
  const cuts = more.map(({ span }) => ({ from: span.start, to: span.end, insert: '' }));
  const insert = text === null ? '' : `"${encodeQuoted(text)}"`;
  const place = placeBefore(
    found.span.start,
    found.signs.decorations.map(({ span }) => span),
  );
  const put =
    first === undefined
      ? { from: place, to: place, insert }
      : { from: first.span.start, to: first.span.end, insert };
  return planOf(expected, [[put, ...cuts]]);
};
