import { rational, type Span } from '../../core/index.ts';
import { barLengthOf } from '../../music/index.ts';
import { bodyField } from './bodyField.ts';
import { type Cursor, closeSlur, readChordTones, readGraces, waitingSign } from './bracketed.ts';
import { emptyBar, plainEvent } from './draft.ts';
import { LONGEST_BAR_REST } from './limits.ts';
import { breakRhythm, lengthOf, pitchOf, placeEvent, placeRest, settleMarks } from './placing.ts';
import { closeBar, endMusicLine, endOverlay, pushBar, type Reading } from './reading.ts';
import { scanMusic } from './scanner.ts';
import type { Token } from './token.ts';
import { openTuplet } from './tuplet.ts';
import type { Expanded } from './userField.ts';

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
