import { multiply, type Rational, rational, type Span } from '../../core/index.ts';
import { barLengthOf, isCompound, type Pitch } from '../../music/index.ts';
import { melodyFirst } from '../../score/index.ts';
import { bodyField } from './bodyField.ts';
import { emptyBar, plainEvent } from './draft.ts';
import { LARGEST_TUPLET, LONGEST_BAR_REST } from './limits.ts';
import { breakRhythm, lengthOf, pitchOf, placeEvent, placeRest, settleMarks } from './placing.ts';
import { closeBar, endMusicLine, endOverlay, pushBar, type Reading } from './reading.ts';
import { scanMusic } from './scanner.ts';
import type { Token } from './token.ts';
import type { Expanded } from './userField.ts';

/** The tokens of a line and how far reading has come. */
interface Cursor {
  readonly tokens: readonly Token[];
  next: number;
  readonly spanOf: (token: Token) => Span;
}

/** Notes in whose time a tuplet is played, where it does not say so; `n` is 3 in compound metres, else 2. Source: ABC standard 2.1, section 4.13. */
const NORMAL_NOTES: Readonly<Record<number, number | 'n'>> = {
  2: 3,
  3: 2,
  4: 3,
  5: 'n',
  6: 2,
  7: 'n',
  8: 3,
  9: 'n',
};

const openTuplet = (r: Reading, token: Token & { readonly kind: 'tuplet' }, span: Span): void => {
  endTuplet(r);
  const usual = NORMAL_NOTES[token.p] ?? 'n';
  const normal = token.q ?? (usual === 'n' ? (isCompound(r.metre) ? 3 : 2) : usual);
  const count = token.r ?? token.p;
  const sane = [token.p, normal, count].every((n) => n >= 1 && n <= LARGEST_TUPLET) && token.p >= 2;
  if (!sane) {
    r.problems.add('tuplet-absurd', 'This tuplet cannot be played; its notes are read plain.', span);
    return;
  }
  r.tuplet = { actual: token.p, normal, count, events: [], span };
};

/** Ends a tuplet that is still open: it has fewer notes than it says. */
export const endTuplet = (r: Reading): void => {
  const tuplet = r.tuplet;
  if (tuplet === null) return;
  r.tuplet = null;
  const count = tuplet.events.length;
  for (const event of tuplet.events) if (event.tuplet !== null) event.tuplet = { ...event.tuplet, count };
  r.problems.add(
    'tuplet-incomplete',
    `This tuplet asks for ${tuplet.count} notes and has ${count}.`,
    tuplet.span,
  );
};

/** Takes the notes between braces. */
const readGraces = (r: Reading, cursor: Cursor, open: Token & { readonly kind: 'graceOpen' }): void => {
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
  closes: number;
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
      tones.closes += 1;
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
const readChordTones = (r: Reading, cursor: Cursor, open: Token): void => {
  const start = cursor.spanOf(open);
  const tones: ChordTones = {
    pitches: [],
    spans: [],
    length: null,
    closes: 0,
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
  for (let n = 0; n < tones.closes; n += 1) closeSlur(r, span);
};

const closeSlur = (r: Reading, span: Span): void => {
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
};

const tie = (r: Reading, span: Span): void => {
  if (r.last === null || r.last.kind === 'rest') {
    r.problems.add('tie-leads-nowhere', 'This tie stands behind no note.', span);
    return;
  }
  r.last.tied = true;
};

const barRest = (r: Reading, token: Token & { readonly kind: 'barRest' }, span: Span): void => {
  const bars = Math.max(1, Math.min(token.bars, LONGEST_BAR_REST));
  if (bars !== token.bars) {
    r.problems.add(
      'bar-rest-absurd',
      `A rest may last 1 to ${LONGEST_BAR_REST} bars; it is read as ${bars}.`,
      span,
    );
  }
  const length = barLengthOf(r.metre) ?? rational(1);
  for (let n = 0; n < bars; n += 1) {
    placeRest(r, length, token.visible, span);
    if (n < bars - 1) {
      const sign = { line: 'single', repeatEnd: 0, repeatStart: 0, odd: false } as const;
      closeBar(r, { kind: 'barLine', sign, passes: null, start: token.start, end: token.end }, span);
    }
  }
};

const startOverlay = (r: Reading): void => {
  if (r.kept !== null) {
    r.bar = emptyBar(r.key, r.metre);
  } else {
    r.kept = { bar: r.bar, last: r.last, lastNote: r.lastNote, tuplet: r.tuplet };
    r.overlays += 1;
    r.bar = emptyBar(r.key, r.metre);
  }
  r.last = null;
  r.lastNote = null;
  r.tuplet = null;
  r.spaced = true;
};

/** Signs that wait for the next note: decorations, chord symbols, annotations. Whether the token was one. */
const waitingSign = (r: Reading, token: Token, span: Span): boolean => {
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

/** An ending may begin inside a bar: what stands before it is common to all endings. */
const startEnding = (r: Reading, passes: readonly number[]): void => {
  endOverlay(r);
  if (r.bar.events.length > 0) pushBar(r);
  r.bar.ending = passes;
};

const barLine = (r: Reading, token: Token & { readonly kind: 'barLine' }, span: Span): void => {
  if (token.sign.odd)
    r.problems.add(
      'bar-line-odd',
      'This bar line is none of the usual ones; it is read as the nearest.',
      span,
    );
  settleMarks(r);
  closeBar(r, token, span);
};

const structureSign = (r: Reading, token: Token, span: Span): boolean => {
  switch (token.kind) {
    case 'barLine':
      barLine(r, token, span);
      return true;
    case 'ending':
      if (token.passes.length === 0)
        r.problems.add('ending-unreadable', 'This ending says no time through.', span);
      else startEnding(r, token.passes);
      return true;
    case 'field':
      if (!token.closed) r.problems.add('field-unclosed', `The field ${token.code}: is never closed.`, span);
      bodyField(r, token.code, token.value, span);
      return true;
    case 'overlay':
      startOverlay(r);
      return true;
    case 'continuation':
      r.continued = true;
      return true;
    case 'lineBreak':
      endMusicLine(r);
      return true;
    case 'comment':
      return true;
    case 'space':
    case 'beamJoin':
    case 'spacer':
      if (token.kind === 'spacer') r.spaced = true;
      return true;
    default:
      return false;
  }
};

const musicSign = (r: Reading, cursor: Cursor, token: Token, span: Span): void => {
  switch (token.kind) {
    case 'note': {
      const pitch = pitchOf(r, token, span);
      placeEvent(r, plainEvent([pitch], lengthOf(r, token.num, token.den, span), span));
      break;
    }
    case 'rest':
      placeRest(r, lengthOf(r, token.num, token.den, span), token.visible, span);
      break;
    case 'barRest':
      barRest(r, token, span);
      break;
    case 'chordOpen':
      readChordTones(r, cursor, token);
      break;
    case 'chordClose':
      r.problems.add('chord-unopened', 'A chord is closed here that was never opened.', span);
      break;
    case 'graceOpen':
      readGraces(r, cursor, token);
      break;
    case 'graceClose':
      r.problems.add('grace-unopened', 'Grace notes are closed here that were never opened.', span);
      break;
    case 'slurOpen':
      r.waiting.opens.push(span);
      break;
    case 'slurClose':
      closeSlur(r, span);
      break;
    case 'tie':
      tie(r, span);
      break;
    case 'broken':
      breakRhythm(r, token.dots, token.longFirst, span);
      break;
    case 'tuplet':
      openTuplet(r, token, span);
      break;
    case 'unknown':
      r.problems.add(
        'sign-unknown',
        `“${token.text.slice(0, 20)}” means nothing in music; it is left out.`,
        span,
      );
      break;
    default:
  }
};

/**
 * Reads one line of music into the bars of the tune.
 * @param line - the line, macros put in, and where it stands in the whole text
 */
export const readMusicLine = (r: Reading, line: Expanded): void => {
  if (!r.continued) {
    r.lineNotes = [];
    r.verses = 0;
  }
  r.continued = false;
  const spanOf = (token: Token): Span => line.spanOf(token.start, token.end);
  const cursor: Cursor = { tokens: scanMusic(line.text), next: 0, spanOf };
  while (cursor.next < cursor.tokens.length && !r.full) {
    const token = cursor.tokens[cursor.next];
    if (token === undefined) break;
    cursor.next += 1;
    if (token.kind === 'space') {
      r.spaced = true;
      continue;
    }
    const span = spanOf(token);
    if (r.skipping && !(token.kind === 'field' && token.code === 'V')) continue;
    if (!structureSign(r, token, span) && !waitingSign(r, token, span)) musicSign(r, cursor, token, span);
  }
  if (!r.continued && !r.skipping) endMusicLine(r);
  const last = cursor.tokens.at(-1);
  if (last?.kind === 'comment' && !r.skipping) {
    r.bar.fields.push({ code: '%', value: last.text, at: r.bar.events.length });
  }
};
