import { multiply, type Rational, rational, type Span } from '../../core/index.ts';
import type { Pitch } from '../../music/index.ts';
import { melodyFirst } from '../../score/index.ts';
import { plainEvent } from './draft.ts';
import { lengthOf, pitchOf, placeEvent } from './placing.ts';
import type { Reading } from './reading.ts';
import type { Token } from './token.ts';

/** The tokens of a line and how far reading has come. */
export interface Cursor {
  readonly tokens: readonly Token[];
  next: number;
  readonly spanOf: (token: Token) => Span;
}

/** Signs that wait for the next note: decorations, chord symbols, annotations. Whether the token was one. */
export const waitingSign = (r: Reading, token: Token, span: Span): boolean => {
  switch (token.kind) {
    case 'quoted':
      if (!token.closed) r.problems.add('quote-unclosed', 'A text begins here and is never closed.', span);
      r.waiting.texts.push({ text: token.text, span });
      return true;
    case 'decoration':
      r.waiting.decorations.push({ name: token.name, span });
      return true;
    case 'shortMark': {
      const name = r.shortMarks.get(token.mark);
      if (name === undefined) {
        r.problems.add(
          'letter-without-meaning',
          `The letter ${token.mark} has no meaning here; it is left out.`,
          span,
        );
      } else if (name !== '') r.waiting.decorations.push({ name, span });
      return true;
    }
    default:
      return false;
  }
};

/** A slur ends with the note read last. */
export const closeSlur = (r: Reading, span: Span): void => {
  if (r.waiting.opens.length > 0) {
    r.waiting.opens.pop();
    return;
  }
  const open = r.slurs.pop();
  if (open === undefined || r.lastNote === null) {
    r.problems.add('slur-unopened', 'A slur is closed here that was never opened.', span);
    return;
  }
  r.lastNote.closes += 1;
  r.lastNote.closeSpans = [...r.lastNote.closeSpans, span];
};

/** Takes the notes between braces. */
export const readGraces = (
  r: Reading,
  cursor: Cursor,
  open: Token & { readonly kind: 'graceOpen' },
): void => {
  const start = cursor.spanOf(open);
  const { waiting } = r;
  waiting.slashed = waiting.slashed || open.slashed;
  waiting.graceSpan ??= start;
  let inChord = false;
  let toneTaken = false;
  while (cursor.next < cursor.tokens.length) {
    const token = cursor.tokens[cursor.next];
    if (token === undefined || token.kind === 'barLine' || token.kind === 'comment') break;
    cursor.next += 1;
    const span = cursor.spanOf(token);
    switch (token.kind) {
      case 'graceClose':
        waiting.graceGroups.push({ start: start.start, end: span.end });
        return;
      case 'note':
        if (inChord && toneTaken) break;
        toneTaken = true;
        waiting.graces.push(pitchOf(r, token, span));
        waiting.graceSpans.push(span);
        break;
      case 'chordOpen':
        inChord = true;
        toneTaken = false;
        r.problems.add('grace-chord', 'Of grace notes that sound together only the first is read.', span);
        break;
      case 'chordClose':
        inChord = false;
        break;
      case 'space':
      case 'slurOpen':
      case 'slurClose':
      case 'tie':
      case 'broken':
      case 'beamJoin':
      case 'tuplet':
        break;
      default:
        r.problems.add('grace-unexpected-sign', 'This sign has no meaning among grace notes.', span);
    }
  }
  r.problems.add('grace-unclosed', 'These grace notes are opened with { and never closed.', start);
};

interface ChordTones {
  readonly pitches: Pitch[];
  readonly spans: Span[];
  length: Rational | null;
  readonly closes: Span[];
  tied: boolean;
  factor: Rational;
  end: number;
  closed: boolean;
}

const chordSign = (r: Reading, token: Token, tones: ChordTones, span: Span): void => {
  switch (token.kind) {
    case 'note':
      tones.pitches.push(pitchOf(r, token, span));
      tones.spans.push(span);
      tones.length ??= lengthOf(r, token.num, token.den, span);
      break;
    case 'tie':
      tones.tied = true;
      break;
    case 'slurOpen':
      r.waiting.opens.push(span);
      break;
    case 'slurClose':
      tones.closes.push(span);
      break;
    case 'space':
    case 'beamJoin':
      break;
    default:
      if (!waitingSign(r, token, span)) {
        r.problems.add('chord-unexpected-sign', 'This sign has no meaning inside a chord.', span);
      }
  }
};

/** Signs that cannot stand in a chord: the ] was forgotten before them. */
const endsChord = ({ kind }: Token): boolean =>
  kind === 'barLine' || kind === 'comment' || kind === 'tuplet' || kind === 'chordOpen';

/** Notes that sound together: the first gives the length; which is the melody, `melodyFirst` says. */
export const readChordTones = (r: Reading, cursor: Cursor, open: Token): void => {
  const start = cursor.spanOf(open);
  const tones: ChordTones = {
    pitches: [],
    spans: [],
    length: null,
    closes: [],
    tied: false,
    factor: rational(1),
    end: start.end,
    closed: false,
  };
  while (cursor.next < cursor.tokens.length && !tones.closed) {
    const token = cursor.tokens[cursor.next];
    if (token === undefined || endsChord(token)) break;
    cursor.next += 1;
    const span = cursor.spanOf(token);
    tones.end = span.end;
    if (token.kind === 'chordClose') {
      tones.closed = true;
      const known = token.num >= 1 && token.num <= 64 && token.den >= 1 && token.den <= 64;
      if (known) tones.factor = rational(token.num, token.den);
      else r.problems.add('length-absurd', 'This length of a chord cannot be played; it is left out.', span);
    } else chordSign(r, token, tones, span);
  }
  if (!tones.closed) r.problems.add('chord-unclosed', 'This chord is opened with [ and never closed.', start);
  const [first, ...others] = tones.pitches;
  if (first === undefined || tones.length === null) {
    r.problems.add('chord-empty', 'There are no notes in these brackets.', {
      start: start.start,
      end: tones.end,
    });
    return;
  }
  const span = { start: start.start, end: tones.end };
  const ordered = melodyFirst([first, ...others]);
  const spans = ordered.map((tone) => tones.spans[tones.pitches.indexOf(tone)] ?? span);
  const event = plainEvent(ordered, multiply(tones.length, tones.factor), span, spans);
  event.tied = tones.tied;
  placeEvent(r, event);
  for (const close of tones.closes) closeSlur(r, close);
};
