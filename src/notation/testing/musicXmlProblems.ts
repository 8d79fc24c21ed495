import { add, compare, equals, formatRational, multiply, rational } from '../../core/index.ts';
import { formatPitch, type Pitch } from '../../music/index.ts';
import { barsOf, placedEvents, type Score, writtenLengthOf } from '../../score/index.ts';
import type { ReadMeasure, ReadNote } from './readMusicXml.ts';

type Line = { readonly at: string; readonly from: string; length: ReturnType<typeof rational> };

/** What sounds, tied notes taken as one: "A/3 1/4 F#5 3/8". */
const soundingOf = (score: Score): readonly string[] => {
  const lines: Line[] = [];
  let carried = new Map<string, Line>();
  barsOf(score).forEach(({ bar }, b) => {
    for (const { event, onset } of placedEvents(bar)) {
      if (event.length.num <= 0) continue;
      const next = new Map<string, Line>();
      for (const pitch of event.kind === 'note' ? event.pitches : []) {
        const from = octaveKept(pitch);
        const tied = carried.get(from);
        carried.delete(from);
        const line = tied ?? { at: `${b} ${formatRational(onset)}`, from, length: rational(0) };
        line.length = add(line.length, event.length);
        if (tied === undefined) lines.push(line);
        if (event.kind === 'note' && event.tiedToNext) next.set(from, line);
      }
      carried = next;
    }
  });
  return lines.map((l) => `${l.at} ${l.from} ${formatRational(l.length)}`);
};
const octaveKept = (pitch: Pitch): string =>
  formatPitch({ ...pitch, octave: Math.max(0, Math.min(9, pitch.octave)) });

const readSounding = (measures: readonly ReadMeasure[]): readonly string[] => {
  const lines: Line[] = [];
  let carried = new Map<string, Line>();
  let next = new Map<string, Line>();
  measures.forEach((measure, b) => {
    for (const note of measure.notes) {
      if (note.grace) continue;
      if (!note.chord) {
        carried = next;
        next = new Map();
      }
      if (note.pitch === null) continue;
      const tied = note.ties.includes('stop') ? carried.get(note.pitch) : undefined;
      const line = tied ?? {
        at: `${b} ${formatRational(note.onset)}`,
        from: note.pitch,
        length: rational(0),
      };
      line.length = add(line.length, note.length);
      if (tied === undefined) lines.push(line);
      if (note.ties.includes('start')) next.set(note.pitch, line);
    }
  });
  return lines.map((l) => `${l.at} ${l.from} ${formatRational(l.length)}`);
};

const pairProblems = (
  marks: readonly { readonly where: string; readonly mark: string }[],
): readonly string[] => {
  const open = new Set<string>();
  const problems: string[] = [];
  for (const { where, mark } of marks) {
    const [type = '', ...rest] = mark.split(' ');
    const id = rest.join(' ');
    if (type === 'start') {
      if (open.has(id)) problems.push(`${where}: ${mark} while it is open`);
      open.add(id);
    } else if (!open.delete(id)) problems.push(`${where}: ${mark} without start`);
  }
  return [...problems, ...[...open].map((id) => `never stopped: ${id}`)];
};

const beamProblems = (measure: ReadMeasure): readonly string[] => {
  const problems: string[] = [];
  const open: boolean[] = [];
  for (const note of measure.notes) {
    if (note.chord || note.grace) continue;
    open.forEach((isOpen, level) => {
      if (isOpen && note.beams[level] === undefined) problems.push(`beam ${level + 1} left open`);
    });
    note.beams.forEach((state, level) => {
      const isOpen = open[level] === true;
      if (state === 'begin' ? isOpen : state === 'continue' || state === 'end' ? !isOpen : isOpen)
        problems.push(`beam ${level + 1}: ${state}`);
      if (state.endsWith('hook') && note.beams[0]?.endsWith('hook')) problems.push('a hook alone');
      open[level] = state === 'begin' || state === 'continue';
    });
  }
  return [...problems, ...(open.includes(true) ? ['beam left open'] : [])];
};

const FLAGS = ['quarter', 'eighth', '16th', '32nd', '64th', '128th', '256th', '512th', '1024th'];
const VALUES = ['long', 'breve', 'whole', 'half', ...FLAGS];

/** A note that does not last what its value, dots and ratio say. */
const valueProblems = (note: ReadNote): readonly string[] => {
  if (note.grace || note.written.type === '') return [];
  const { type, dots, ratio } = note.written;
  const [actual = 1, normal = 1] = ratio?.split(':').map(Number) ?? [];
  const plain = rational(4, 2 ** VALUES.indexOf(type));
  const dotted = multiply(plain, rational(2 ** (dots + 1) - 1, 2 ** dots));
  const played = multiply(dotted, rational(normal, actual));
  const beams = note.beams.length > 0 && note.beams.length !== FLAGS.indexOf(type);
  return [
    ...(equals(played, note.length)
      ? []
      : [`${type} with ${dots} dots, ${ratio}: ${formatRational(note.length)}`]),
    ...(beams ? [`${note.beams.length} beams on a ${type}`] : []),
  ];
};

const SIGNS: Readonly<Record<string, number>> = {
  'flat-flat': -2,
  flat: -1,
  natural: 0,
  sharp: 1,
  'double-sharp': 2,
};

/** Reads the notes as a player reads paper: staff place, key, accidentals of the bar. Where that differs from what is meant. */
const paperProblems = (measures: readonly ReadMeasure[]): readonly string[] => {
  let key: Readonly<Record<string, number>> = {};
  let bar = new Map<string, number>();
  let goesOn = false;
  const problems: string[] = [];
  for (const measure of measures) {
    key = measure.key ?? key;
    if (!goesOn || measure.repeats.includes('forward')) bar = new Map();
    goesOn = measure.line === 'none';
    for (const note of measure.notes) {
      if (note.pitch === null) continue;
      const place = `${note.step}${note.octave}`;
      if (note.accidental !== null) bar.set(place, SIGNS[note.accidental] ?? Number.NaN);
      const read = note.ties.includes('stop') ? note.alter : (bar.get(place) ?? key[note.step] ?? 0);
      if (read !== note.alter) problems.push(`${note.pitch} in measure ${measure.number} reads as ${read}`);
    }
  }
  return problems;
};

/**
 * Everything that is wrong with one part of a written MusicXML file, against the score that it was written from: length
 * of every measure, pitches and onsets, values, ties, slurs, beams, brackets, endings, repeats, accidentals as read on paper.
 */
export const musicXmlProblems = (score: Score, measures: readonly ReadMeasure[]): readonly string[] => {
  const bars = barsOf(score);
  if (bars.length !== measures.length) return [`${measures.length} measures for ${bars.length} bars`];
  const problems: string[] = [];
  bars.forEach(({ bar }, i) => {
    const measure = measures[i];
    if (measure === undefined) return;
    const where = `measure ${measure.number}`;
    const say = (what: string): number => problems.push(`${where}: ${what}`);
    if (compare(measure.length, writtenLengthOf(bar)) !== 0) say(`lasts ${formatRational(measure.length)}`);
    if (measure.implicit ? bar.number !== null : String(bar.number) !== measure.number) say('number');
    if (measure.repeats.includes('forward') !== bar.repeatStart > 0) say('repeat start');
    if (measure.repeats.includes('backward') !== bar.repeatEnd > 0) say('repeat end');
    for (const problem of [...beamProblems(measure), ...measure.notes.flatMap(valueProblems)]) say(problem);
    const brackets = measure.notes.flatMap((n) => n.tuplets).map((mark) => ({ where, mark }));
    for (const problem of pairProblems(brackets)) say(problem);
    for (const note of measure.notes) if (note.ties.join() !== note.tied.join()) say('tie and tied differ');
  });
  const marksOf = (marks: (m: ReadMeasure) => readonly string[]) =>
    measures.flatMap((m) =>
      marks(m).map((mark) => ({ where: m.number, mark: mark.replace('discontinue', 'stop') })),
    );
  const numbers = measures.map((m) => m.number);
  const written = soundingOf(score).toSorted();
  const read = readSounding(measures).toSorted();
  return [
    ...problems,
    ...pairProblems(marksOf((m) => m.notes.flatMap((n) => n.slurs))),
    ...pairProblems(marksOf((m) => m.endings)),
    ...(new Set(numbers).size === numbers.length ? [] : ['measure numbers repeat']),
    ...paperProblems(measures),
    ...written
      .filter((line, i) => line !== read[i])
      .map((line) => `sounds otherwise: ${line}`)
      .slice(0, 3),
    ...(written.length === read.length ? [] : [`${read.length} notes read, ${written.length} written`]),
  ];
};
