import { asWholeNotes, type Rational, rational } from '../core/index.ts';
import type { Bar, Event, Mark, Note, Part, Score } from '../score/index.ts';
import { notatablePieces, withBeams } from './beams.ts';
import { inTicks, type Line, type LineBar, type LineNote } from './line.ts';

/** Signs that belong to the form of the tune, not to its playing: the bones keep them. */
export const FORM_MARKS: ReadonlySet<Mark> = new Set<Mark>([
  'fermata',
  'segno',
  'coda',
  'fine',
  'dacapo',
  'dalsegno',
  'breath',
]);

/**
 * A note as the bones have it: no ornament, slur, bow; its written finger, where there is one.
 * @param given - what differs among the tied pieces of one note; marks, finger and syllable stand on the first
 */
const bareNote = (
  note: Note,
  given: Pick<Note, 'length' | 'tuplet' | 'tiedToNext'> & { readonly first: boolean },
): Note => ({
  kind: 'note',
  pitches: [note.pitches[0]],
  graces: null,
  signs: [],
  marks: given.first ? note.marks.filter((mark) => FORM_MARKS.has(mark)) : [],
  bow: null,
  fingers: given.first ? note.fingers.slice(0, 1) : [],
  slurs: { opens: 0, closes: 0 },
  tuplet: given.tuplet,
  beamedToNext: false,
  otherDecorations: [],
  lyric: given.first ? note.lyric : null,
  length: given.length,
  tiedToNext: given.tiedToNext,
});

interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly note: Note;
  /** Rings on after `to`. */
  readonly ringsOn: boolean;
}

/** What a bar's stretches are cut by. */
interface Frame {
  readonly bar: LineBar;
  readonly ticks: number;
  /** Ticks of a cell. */
  readonly group: number;
}

const stretchesOf = (bar: LineBar, kept: readonly boolean[]): readonly Stretch[] => {
  const struck = bar.notes.filter((_, i) => kept[i] === true);
  const stopAfter = (at: number, next: LineNote | undefined): number => {
    const rest = bar.rests.find((r) => r.at >= at);
    return Math.min(rest?.at ?? bar.length, next?.at ?? bar.length);
  };
  const last = bar.notes.at(-1);
  const stretches = struck.map((note, i): Stretch => {
    const to = stopAfter(note.at, struck[i + 1]);
    return {
      from: note.at,
      to,
      note: note.note,
      ringsOn: to === bar.length && note === last && note.tiedOut,
    };
  });
  if (bar.carried === null) return stretches;
  const to = stopAfter(0, struck[0]);
  const ringsOn = to === bar.length && bar.carried.tiedOut;
  return [{ from: 0, to, note: bar.carried.note, ringsOn }, ...stretches];
};

/** Lengths for a stretch that one note head can't show: cut at cell lines first, then by size. */
const piecesOf = (from: number, to: number, frame: Frame): readonly Rational[] => {
  const whole = rational(to - from, frame.ticks);
  if (notatablePieces(whole).length === 1) return [whole];
  const cuts: number[] = [from];
  const firstLine = from + frame.group - ((frame.bar.offset + from) % frame.group);
  for (let at = firstLine; at < to; at += frame.group) cuts.push(at);
  cuts.push(to);
  return cuts.slice(1).flatMap((end, i) => notatablePieces(rational(end - (cuts[i] ?? 0), frame.ticks)));
};

/** The written notes that fill exactly from … to, or from … as far as they go within it. */
const writtenBetween = (
  from: number,
  to: number,
  frame: Frame,
): { readonly notes: readonly Note[]; readonly end: number } => {
  const notes: Note[] = [];
  let at = 0;
  let end = from;
  for (const event of frame.bar.bar.events) {
    const until = at + inTicks(event.length, frame.ticks);
    const goesOn = notes.length === 0 ? at === from : notes.at(-1)?.tiedToNext === true;
    if (at >= from && until <= to && goesOn && event.kind === 'note') {
      notes.push(event);
      end = until;
    } else if (at >= from) break;
    at = until;
  }
  return { notes, end };
};

const eventsOf = (stretch: Stretch, frame: Frame): readonly Note[] => {
  const written = writtenBetween(stretch.from, stretch.to, frame);
  const tuplet = written.notes.at(-1)?.tuplet ?? null;
  const endsTuplet = tuplet !== null && tuplet.index === tuplet.count - 1;
  const asWritten = written.end === stretch.to || endsTuplet ? written.notes : [];
  const from = asWritten.length > 0 ? written.end : stretch.from;
  const rest = from < stretch.to ? piecesOf(from, stretch.to, frame) : [];
  const last = asWritten.length + rest.length - 1;
  const pieceAt = (i: number, length: Rational, place: Note['tuplet']): Note =>
    bareNote(stretch.note, {
      length: asWholeNotes(length),
      tuplet: place,
      tiedToNext: i < last || stretch.ringsOn,
      first: i === 0,
    });
  return [
    ...asWritten.map((note, i) => pieceAt(i, note.length, note.tuplet)),
    ...rest.map((length, i) => pieceAt(asWritten.length + i, length, null)),
  ];
};

/**
 * A bar with only the kept notes: each is held until the next kept one; rests stay rests.
 * @param kept - one flag for each struck note of the bar
 * @param group - ticks of a cell, for cutting lengths that no single note head shows
 */
export const thinnedBar = (
  bar: LineBar,
  kept: readonly boolean[],
  grid: { readonly group: number; readonly ticks: number },
): Bar => {
  const frame = { bar, ticks: grid.ticks, group: grid.group };
  const placed: { at: number; events: readonly Event[] }[] = stretchesOf(bar, kept).map((stretch) => ({
    at: stretch.from,
    events: eventsOf(stretch, frame),
  }));
  let at = 0;
  const beamAt = new Map<number, { readonly length: string; readonly beamed: boolean }>();
  for (const event of bar.bar.events) {
    if (event.kind === 'rest') placed.push({ at, events: [event] });
    beamAt.set(at, { length: `${event.length.num}/${event.length.den}`, beamed: event.beamedToNext });
    at += inTicks(event.length, grid.ticks);
  }
  placed.sort((a, b) => a.at - b.at);
  const events = placed.flatMap((p) => p.events);
  const onsets: number[] = [];
  let onset = 0;
  for (const event of events) {
    onsets.push(onset);
    onset += inTicks(event.length, grid.ticks);
  }
  const sameAsWritten = (i: number): boolean => {
    const event = events[i];
    const old = beamAt.get(onsets[i] ?? -1);
    return event !== undefined && old?.length === `${event.length.num}/${event.length.den}`;
  };
  const beamOf = (i: number): boolean | null =>
    sameAsWritten(i) && sameAsWritten(i + 1) ? (beamAt.get(onsets[i] ?? -1)?.beamed ?? null) : null;
  const offset = rational(bar.offset, grid.ticks);
  return { ...bar.bar, events: withBeams(events, bar.bar.metre, { offset, beamOf }) };
};

/** The score with only the kept notes of its line; parts, bars, repeats, chords and addresses stay. */
export const thinned = (
  score: Score,
  line: Line,
  given: { readonly kept: readonly (readonly boolean[])[]; readonly groupOf: (bar: LineBar) => number },
): Score => {
  let number = 0;
  const parts = score.parts.map((part): Part => {
    const bars = part.bars.map((bar) => {
      const lineBar = line.bars[number];
      const kept = given.kept[number] ?? [];
      number += 1;
      if (lineBar === undefined) return bar;
      return thinnedBar(lineBar, kept, { group: given.groupOf(lineBar), ticks: line.ticks });
    });
    return { ...part, bars };
  });
  return { ...score, parts };
};
