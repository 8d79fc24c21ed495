import type { Attack, TimedNote } from '../perform/index.ts';

/** How a fiddle note comes in: with its own stroke of the bow, or out of the note before it in the same stroke. */
export type Entry = 'stroke' | 'shortStroke' | 'slurred' | 'flicked';
/**
 * How it goes out: `stop`: the string rings out; `ring`: an open string beside the melody rings on when the bow has left it; `turn`: the bow turns round into the next stroke; `lift`: a short
 * stroke stops dead before the next; `handOver`: a finger changes the note within the stroke.
 */
export type Exit = 'stop' | 'ring' | 'turn' | 'lift' | 'handOver' | 'handOverAtOnce';

/** A fiddle note and what the bow does at its two ends. */
export interface BowedNote {
  readonly note: TimedNote;
  readonly entry: Entry;
  readonly exit: Exit;
  /** Time since the stroke began, seconds: the bow tires within a stroke. */
  readonly sinceStroke: number;
}

/** Notes that follow one another within this time are one line, in seconds. Ours: far under what is heard as a gap. */
const ADJOINING = 0.008;

/** G3 D4 A4 E5: no finger damps them. Common practice: standard tuning. */
const OPEN_STRINGS: readonly number[] = [55, 62, 69, 76];

const endOf = (note: TimedNote): number => note.start + note.length;

const entryOf = (note: TimedNote, followsOn: boolean): Entry => {
  switch (note.attack) {
    case 'slur':
    case 'afterFlick':
      return followsOn ? 'slurred' : 'stroke';
    case 'cut':
    case 'strike':
      return followsOn && note.newBow !== true ? 'flicked' : 'shortStroke';
    case 'treble':
      return 'shortStroke';
    case 'bow':
    case 'pluck':
    case 'hit':
      return 'stroke';
    default:
      return note.attack satisfies never;
  }
};

const exitOf = (note: TimedNote, next: { attack: Attack; entry: Entry } | null): Exit => {
  if (next === null) return note.beside === true && OPEN_STRINGS.includes(note.midi) ? 'ring' : 'stop';
  switch (next.entry) {
    case 'stroke':
      return note.attack === 'treble' ? 'lift' : 'turn';
    case 'shortStroke':
      return next.attack === 'treble' ? 'lift' : 'turn';
    case 'slurred':
      return 'handOver';
    case 'flicked':
      return 'handOverAtOnce';
    default:
      return next.entry satisfies never;
  }
};

/** The line that a note belongs to: the melody, or the sounds beside it by pitch. */
const lineOf = (note: TimedNote): string => (note.beside === true ? `beside ${note.midi}` : 'melody');

/**
 * What does the bow do at each fiddle note?
 *
 * A note that is marked as slurred, cut or struck but follows nothing gets a stroke of its own.
 * @param notes - the fiddle's notes in any order
 * @returns the notes by start
 */
export const bowingOf = (notes: readonly TimedNote[]): readonly BowedNote[] => {
  const lines = new Map<string, TimedNote[]>();
  for (const note of [...notes].sort((a, b) => a.start - b.start)) {
    const line = lines.get(lineOf(note)) ?? [];
    lines.set(lineOf(note), line);
    line.push(note);
  }
  return [...lines.values()].flatMap(bowLine).sort((a, b) => a.note.start - b.note.start);
};

const bowLine = (line: readonly TimedNote[]): readonly BowedNote[] => {
  let strokeStart = 0;
  const entries = line.map((note, i) => {
    const before = line[i - 1];
    return entryOf(note, before !== undefined && Math.abs(endOf(before) - note.start) <= ADJOINING);
  });
  return line.map((note, i): BowedNote => {
    const entry = entries[i] ?? 'stroke';
    if (entry === 'stroke' || entry === 'shortStroke') strokeStart = note.start;
    const next = line[i + 1];
    const nextEntry = entries[i + 1];
    const adjoins = next !== undefined && next.start - endOf(note) <= ADJOINING;
    return {
      note,
      entry,
      exit: exitOf(
        note,
        adjoins && nextEntry !== undefined ? { attack: next.attack, entry: nextEntry } : null,
      ),
      sinceStroke: note.start - strokeStart,
    };
  });
};
