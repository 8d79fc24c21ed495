import { asWholeNotes, type Rational, type Span, toNumber, type WholeNotes } from '../../core/index.ts';
import type { Pitch } from '../../music/index.ts';
import {
  addressKey,
  assembleParts,
  type Event,
  type LooseBar,
  type Part,
  type Score,
} from '../../score/index.ts';
import { checkBars, checkPlayedLength, checkRange } from './checks.ts';
import { chordOf } from './chordText.ts';
import { type DraftBar, type DraftEvent, onsetsOf } from './draft.ts';
import { settleSlurs, settleTies } from './joins.ts';
import { readPartOrder } from './partOrder.ts';
import { endMusicLine, type Reading } from './reading.ts';
import type { ReadTune, WrittenSigns } from './readTune.ts';
import { decodeText } from './text.ts';
import { endTuplet } from './tuplet.ts';

/** What the header said and the music does not change. */
interface Finish {
  readonly number: number;
  readonly partOrder: { readonly value: string; readonly span: Span } | null;
  readonly unit: Reading['unit'];
  /** Whether an `L:` says the unit note length. */
  readonly unitWritten: boolean;
  readonly span: Span;
}

const NO_SLURS = { opens: 0, closes: 0 } as const;

const asNote = (event: DraftEvent, first: Pitch): Event => {
  const grace = event.graces[0];
  return {
    kind: 'note',
    pitches: event.pitches.length === 1 ? [first] : [first, ...event.pitches.slice(1)],
    length: asWholeNotes(event.length),
    graces:
      grace === undefined ? null : { pitches: [grace, ...event.graces.slice(1)], slashed: event.slashed },
    signs: event.signs,
    marks: event.marks,
    bow: event.bow,
    fingers: event.fingers,
    slurs: event.opens + event.closes === 0 ? NO_SLURS : { opens: event.opens, closes: event.closes },
    tiedToNext: event.tied,
    tuplet: event.tuplet,
    beamedToNext: event.beamed,
    otherDecorations: event.others,
    lyric: event.lyric,
  };
};

const asEvent = (event: DraftEvent): Event => {
  const first = event.pitches[0];
  if (event.kind === 'note' && first !== undefined) return asNote(event, first);
  return {
    kind: 'rest',
    length: asWholeNotes(event.length),
    visible: event.visible,
    tuplet: event.tuplet,
    beamedToNext: event.beamed,
    marks: event.marks,
  };
};

const asLooseBar = (r: Reading, bar: DraftBar, onsets: readonly WholeNotes[]): LooseBar => {
  const onsetAt = (index: number) => onsets[Math.min(index, onsets.length - 1)] as WholeNotes;
  const chords: LooseBar['chords'][number][] = [];
  const annotations: LooseBar['annotations'][number][] = bar.annotations.map(({ at, place, text }) => ({
    onset: onsetAt(at),
    place,
    text,
  }));
  for (const { at, text, span } of bar.chords) {
    const chord = chordOf(text);
    if (chord !== null) chords.push({ onset: onsetAt(at), chord, text });
    else {
      r.problems.add(
        'chord-symbol-unknown',
        `“${text}” is no chord that is known here; read as words above the staff.`,
        span,
      );
      annotations.push({ onset: onsetAt(at), place: 'above', text });
    }
  }
  for (const { onset, text } of bar.overlayChords) {
    const chord = chordOf(text);
    const inside = toNumber(onset) < toNumber(onsetAt(bar.events.length));
    if (chord !== null && inside) chords.push({ onset: asWholeNotes(onset), chord, text });
  }
  const byOnset = (a: { onset: Rational }, b: { onset: Rational }): number =>
    a.onset.num * b.onset.den - b.onset.num * a.onset.den;
  return {
    events: bar.events.map(asEvent),
    key: bar.key,
    metre: bar.metre,
    repeatStart: bar.repeatStart,
    repeatEnd: bar.repeatEnd,
    line: bar.line,
    ending: bar.ending,
    chords: chords.length < 2 ? chords : chords.toSorted(byOnset),
    annotations: annotations.length < 2 ? annotations : annotations.toSorted(byOnset),
    fields: bar.fields.map(({ code, value, at }) => ({ code, value, onset: onsetAt(at) })),
    tempo: bar.tempo,
    lineEnd: bar.lineEnd,
    partLabel: bar.partLabel,
  };
};

const signsOf = ({ waited, closeSpans }: DraftEvent): WrittenSigns | null => {
  if (waited === null && closeSpans.length === 0) return null;
  return {
    decorations: waited?.decorations ?? [],
    texts: waited?.texts ?? [],
    graces: waited?.graceGroups ?? [],
    opens: waited?.opens ?? [],
    closes: closeSpans,
  };
};

/** Where every event, grace note, chord tone and bar was written. */
const spanTables = (
  parts: readonly Part[],
  drafts: readonly DraftBar[],
  onsetsOfBars: readonly (readonly WholeNotes[])[],
): Pick<ReadTune, 'spans' | 'signs' | 'barSpans'> => {
  const spans = new Map<string, Span>();
  const signs = new Map<string, WrittenSigns>();
  const barSpans = new Map<string, Span>();
  let next = 0;
  for (const part of parts) {
    part.bars.forEach((_, bar) => {
      const draft = drafts[next];
      const onsets = onsetsOfBars[next];
      next += 1;
      if (draft === undefined || onsets === undefined) return;
      barSpans.set(`${part.label}/${bar}`, { start: draft.start, end: draft.end });
      draft.events.forEach((event, i) => {
        const at = { part: part.label, bar, onset: onsets[i] as WholeNotes };
        spans.set(addressKey(at), event.span);
        const written = signsOf(event);
        if (written !== null) signs.set(addressKey(at), written);
        event.graceSpans.forEach((span, grace) => {
          spans.set(addressKey({ ...at, grace }), span);
        });
        event.toneSpans.forEach((span, tone) => {
          if (tone > 0) spans.set(addressKey({ ...at, tone }), span);
        });
      });
    });
  }
  return { spans, signs, barSpans };
};

/** What still waited for a note when the music ended goes to the last bar, so that nothing written is lost. */
const settleEnd = (r: Reading): void => {
  if (r.skipping) r.skipping = false;
  endMusicLine(r);
  endTuplet(r);
  if (r.broken !== null) {
    r.problems.add('broken-rhythm-alone', 'This sign of broken rhythm leads to no note.', r.broken.span);
  }
  if (r.waiting.graceSpan !== null) {
    r.problems.add('grace-without-note', 'These grace notes lead to no note.', r.waiting.graceSpan);
  }
  const last = r.bars.at(-1);
  if (last !== undefined) {
    const at = last.events.length;
    for (const field of r.bar.fields) last.fields.push({ ...field, at });
    // A change that no note follows changes nothing.
    last.fields = last.fields.filter((f) => f.at < at || !'KMQP'.includes(f.code));
    for (const { text, span } of r.waiting.texts) {
      const placed = text.replace(/^[\^_<>@]/, '');
      if (chordOf(text) !== null) last.chords.push({ at, text, span });
      else last.annotations.push({ at, place: 'above', text: placed });
    }
  } else for (const { code, value } of r.bar.fields) r.fields.push({ code, value });
  settleSlurs(r);
  settleTies(r.bars, r.problems);
};

const remarkOnVoices = (r: Reading, span: Span): void => {
  for (const [name, at] of r.otherVoices) {
    r.problems.add('other-voice', `The voice “${name}” is not read.`, at);
  }
  if (r.overlays > 0) {
    r.problems.add(
      'overlay-ignored',
      `What is written behind & in ${r.overlays} places is not read, but for chord symbols.`,
      span,
    );
  }
};

const partOrderOf = (
  r: Reading,
  parts: readonly Part[],
  written: Finish['partOrder'],
): Score['partOrder'] => {
  if (written === null) return null;
  const order = readPartOrder(written.value);
  const named = new Set(parts.filter((p) => p.named).map((p) => p.label));
  if (order?.every((label) => named.has(label)) === true) return order;
  r.problems.add(
    'part-order-unread',
    `The order of parts “${written.value}” is not followed: not all of it are names of parts in the music.`,
    written.span,
  );
  r.fields.push({ code: 'P', value: decodeText(written.value) });
  return null;
};

/** Makes the score of a tune whose lines have all been read. */
export const finishTune = (r: Reading, finish: Finish): ReadTune => {
  settleEnd(r);
  const onsets = r.bars.map(onsetsOf);
  const assembled = assembleParts(r.bars.map((bar, i) => asLooseBar(r, bar, onsets[i] ?? [])));
  const partOrder = partOrderOf(r, assembled.parts, finish.partOrder);
  remarkOnVoices(r, finish.span);
  const firstBar = r.bars[0];
  if (firstBar === undefined) {
    r.problems.add('no-music', 'This tune has no notes.', {
      start: finish.span.start,
      end: finish.span.start,
    });
  }
  const score: Score = {
    number: finish.number,
    fields: r.fields,
    metre: firstBar?.metre ?? r.metre,
    key: firstBar?.key ?? r.key,
    unit: finish.unit,
    tempo: r.tempo,
    partOrder,
    parts: assembled.parts,
  };
  const tables = spanTables(assembled.parts, r.bars, onsets);
  checkBars(score, tables.barSpans, r.problems, finish.unitWritten);
  checkPlayedLength(score, finish.span, r.problems);
  checkRange(score, tables.spans, r.problems);
  return {
    score,
    ...tables,
    span: finish.span,
    diagnostics: [...assembled.diagnostics, ...r.problems.list()],
  };
};
