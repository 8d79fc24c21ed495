import { equals, multiply, type Rational, rational, type Span } from '../../core/index.ts';
import type { Pitch } from '../../music/index.ts';
import { sameStaffPlace } from './accidentals.ts';
import { CLOSING_MARKS, decorationNamed } from './decorations.ts';
import { type DraftEvent, plainEvent } from './draft.ts';
import { LARGEST_LENGTH_NUMBER, OCTAVES } from './limits.ts';
import { admits, isNothing, nothingWaiting, type Reading } from './reading.ts';
import type { NoteSign } from './token.ts';

/** The pitch that a note letter means here: its own accidental, a tie's, the bar's or the key's. */
export const pitchOf = (r: Reading, sign: NoteSign, span: Span): Pitch => {
  let octave = sign.octave;
  if (octave < OCTAVES.lowest || octave > OCTAVES.highest) {
    r.problems.add(
      'pitch-absurd',
      'This note lies outside all hearing; it is read in the nearest octave.',
      span,
    );
    octave = Math.max(OCTAVES.lowest, Math.min(OCTAVES.highest, octave));
  }
  if (sign.microtone) {
    r.problems.add(
      'microtone-rounded',
      'This accidental is smaller than a semitone; it is read as a whole one.',
      span,
    );
  }
  if (sign.alter !== null) {
    r.accidentals.set(sign.step, octave, sign.alter);
    return { step: sign.step, alter: sign.alter, octave };
  }
  const plain: Pitch = { step: sign.step, alter: r.accidentals.of(sign.step, octave, r.key), octave };
  const tied =
    r.lastNote?.tied === true ? r.lastNote.pitches.find((p) => sameStaffPlace(p, plain)) : undefined;
  return tied ?? plain;
};

/** A written length in whole notes; an absurd one is reported and read as the unit note length. */
export const lengthOf = (r: Reading, num: number, den: number, span: Span): Rational => {
  if (num === 1 && den === 1) return r.unit;
  const sane = num >= 1 && num <= LARGEST_LENGTH_NUMBER && den >= 1 && den <= LARGEST_LENGTH_NUMBER;
  if (sane) return multiply(r.unit, rational(num, den));
  r.problems.add(
    'length-absurd',
    `This length cannot be played; numbers go from 1 to ${LARGEST_LENGTH_NUMBER}. It is read as one unit note.`,
    span,
  );
  return r.unit;
};

const admitted = (r: Reading, length: Rational, span: Span): Rational => {
  if (admits(r, length)) return length;
  r.problems.add(
    'length-absurd',
    'This note is too long, or cut too fine, to be counted; it is read as one unit note.',
    span,
  );
  if (!admits(r, r.unit)) r.full = true;
  return r.unit;
};

const giveWaiting = (r: Reading, event: DraftEvent): void => {
  const waiting = r.waiting;
  if (isNothing(waiting)) return;
  for (const { text, span } of waiting.texts) placeText(r, text, span);
  const later = nothingWaiting();
  if (event.kind === 'rest') {
    if (waiting.graceSpan !== null) {
      r.problems.add('grace-without-note', 'These grace notes lead to no note.', waiting.graceSpan);
    }
    for (const { name } of waiting.decorations) {
      const decoration = decorationNamed(name);
      if (decoration.kind === 'mark') event.marks = [...event.marks, decoration.mark];
    }
    event.waited = { ...waiting, opens: [] };
    later.opens = waiting.opens;
    r.waiting = later;
    return;
  }
  event.waited = waiting;
  event.graces = waiting.graces;
  event.slashed = waiting.slashed;
  event.graceSpans = waiting.graceSpans;
  event.opens += waiting.opens.length;
  for (const span of waiting.opens) r.slurs.push({ event, span });
  for (const { name } of waiting.decorations) decorate(event, name);
  r.waiting = later;
};

/** Puts a decoration on a note. */
export const decorate = (event: DraftEvent, name: string): void => {
  const decoration = decorationNamed(name);
  switch (decoration.kind) {
    case 'sign':
      event.signs = [...event.signs, decoration.sign];
      break;
    case 'mark':
      event.marks = [...event.marks, decoration.mark];
      break;
    case 'bow':
      event.bow = decoration.bow;
      break;
    case 'finger':
      event.fingers = [...event.fingers, decoration.finger];
      break;
    case 'other':
      event.others = [...event.others, decoration.name];
      break;
    default:
      decoration satisfies never;
  }
};

const ANNOTATION_PLACES = { '^': 'above', _: 'below', '<': 'left', '>': 'right', '@': 'free' } as const;

/** Whether a text over the staff that begins with this character is an annotation, not a chord symbol. */
export const isPlaceSign = (char: string): char is keyof typeof ANNOTATION_PLACES =>
  Object.hasOwn(ANNOTATION_PLACES, char);

/** Puts a chord symbol or an annotation before the next event of the bar. */
const placeText = (r: Reading, text: string, span: Span): void => {
  const at = r.bar.events.length;
  const sign = text.charAt(0);
  if (!isPlaceSign(sign)) {
    r.bar.chords.push({ at, text, span });
    return;
  }
  const words = sign === '@' ? text.replace(/^@-?[\d.]{0,9},-?[\d.]{0,9}\s*/, '') : text.slice(1);
  r.bar.annotations.push({ at, place: ANNOTATION_PLACES[sign], text: words });
};

const applyBroken = (r: Reading, event: DraftEvent): void => {
  const broken = r.broken;
  if (broken === null) return;
  r.broken = null;
  if (!equals(broken.partner, event.length)) {
    r.problems.add(
      'broken-rhythm-unequal',
      'Broken rhythm joins two notes that are not written alike.',
      broken.span,
    );
  }
  event.length = multiply(event.length, broken.factor);
};

const applyTuplet = (r: Reading, event: DraftEvent): void => {
  const tuplet = r.tuplet;
  if (tuplet === null) return;
  event.tuplet = {
    actual: tuplet.actual,
    normal: tuplet.normal,
    index: tuplet.events.length,
    count: tuplet.count,
  };
  event.length = multiply(event.length, rational(tuplet.normal, tuplet.actual));
  tuplet.events.push(event);
  if (tuplet.events.length === tuplet.count) r.tuplet = null;
};

/** Puts a note or rest into the bar, with everything that waited for it. */
export const placeEvent = (r: Reading, event: DraftEvent): void => {
  if (r.full) return;
  applyBroken(r, event);
  applyTuplet(r, event);
  event.length = admitted(r, event.length, event.span);
  giveWaiting(r, event);
  const before = r.bar.events.at(-1);
  if (before !== undefined && !r.spaced) before.beamed = true;
  if (event.kind === 'note') {
    if (r.kept === null) {
      r.lineNotes.push({ event, bar: r.bars.length, barDraft: r.bar, at: r.bar.events.length });
    }
    r.lastNote = event;
  }
  if (r.bar.start < 0) r.bar.start = event.span.start;
  r.bar.end = event.span.end;
  r.bar.events.push(event);
  r.last = event;
  r.spaced = false;
};

/** A rest of that length. */
export const placeRest = (r: Reading, length: Rational, visible: boolean, span: Span): void => {
  const rest = plainEvent([], length, span);
  rest.visible = visible;
  placeEvent(r, rest);
};

const MOST_DOTS = 3;

/**
 * Broken rhythm: the note before it changes now, the note behind it when it comes.
 * @see Source: ABC standard 2.1, section 4.4: `>` 3/2 and 1/2, `>>` 7/4 and 1/4, `>>>` 15/8 and 1/8
 */
export const breakRhythm = (r: Reading, dots: number, longFirst: boolean, span: Span): void => {
  const first = r.last;
  if (first === null || r.broken !== null) {
    r.problems.add('broken-rhythm-alone', 'This sign of broken rhythm stands behind no note.', span);
    return;
  }
  const parts = 2 ** Math.min(dots, MOST_DOTS);
  const long = rational(2 * parts - 1, parts);
  const short = rational(1, parts);
  const partner =
    first.tuplet === null
      ? first.length
      : multiply(first.length, rational(first.tuplet.actual, first.tuplet.normal));
  const length = multiply(first.length, longFirst ? long : short);
  if (!admits(r, length)) return;
  first.length = length;
  r.broken = { factor: longFirst ? short : long, partner, span };
};

/** At a bar line: a D.C., a fine or a fermata belongs to the note before it; other signs wait for the next note. */
export const settleMarks = (r: Reading): void => {
  const last = r.bar.events.at(-1);
  if (last === undefined || r.waiting.decorations.length === 0) return;
  r.waiting.decorations = r.waiting.decorations.filter(({ name }) => {
    const decoration = decorationNamed(name);
    if (decoration.kind !== 'mark' || !CLOSING_MARKS.has(decoration.mark)) return true;
    last.marks = [...last.marks, decoration.mark];
    return false;
  });
};
