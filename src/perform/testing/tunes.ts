import { formatPitch, type Pitch, STEPS } from '../../music/index.ts';
import { readAbc } from '../../notation/index.ts';
import type { Score } from '../../score/index.ts';
import type { TimedNote, Timeline } from '../timeline.ts';

/** What a test tune says in its header. */
export interface Header {
  readonly rhythm?: string;
  readonly metre?: string;
  readonly key?: string;
  readonly parts?: string;
}

/** A tune in quavers from its bars in ABC. */
export const tuneOf = (body: string, header: Header = {}): Score => {
  const { rhythm = 'reel', metre = '4/4', key = 'G', parts } = header;
  const order = parts === undefined ? '' : `P:${parts}\n`;
  const text = `X:1\nT:Test\nR:${rhythm}\nM:${metre}\nL:1/8\n${order}K:${key}\n${body}\n`;
  const [tune] = readAbc(text).tunes;
  if (tune === undefined) throw new Error(`no tune in ${text}`);
  return tune.score;
};

const nameOf = (midi: number): string => {
  const sharps = [0, 2, 4, 5, 7, 9, 11];
  const chroma = midi % 12;
  const at = sharps.findLastIndex((s) => s <= chroma);
  const pitch: Pitch = {
    step: STEPS[at] ?? 'C',
    alter: chroma === sharps[at] ? 0 : 1,
    octave: Math.floor(midi / 12) - 1,
  };
  return formatPitch(pitch);
};

/** The fiddle's notes of the n-th played bar: "from the bar's start in ms, length in ms, pitch, attack". */
export const fiddleInBar = (timeline: Timeline, n: number): readonly string[] => {
  const bar = timeline.bars[n];
  if (bar === undefined) return [];
  return fiddleOf(timeline)
    .filter((note) => note.start >= bar.start - 1e-6 && note.start < bar.end - 1e-6)
    .map((note) => {
      const ms = (x: number): number => Math.round(x * 1000);
      const beside = note.beside === true ? ' beside' : '';
      return `${ms(note.start - bar.start)} ${ms(note.length)} ${nameOf(note.midi)} ${note.attack}${beside}`;
    });
};

/** The fiddle's notes, tones beside the melody included. */
export const fiddleOf = (timeline: Timeline): readonly TimedNote[] =>
  timeline.notes.filter((n) => n.voice === 'fiddle');

/** The melody alone. */
export const melodyOf = (timeline: Timeline): readonly TimedNote[] =>
  fiddleOf(timeline).filter((n) => n.beside !== true);

/** "G4 A4 B4": the melody's pitches in a played bar. */
export const pitchesInBar = (timeline: Timeline, n: number): string => {
  const bar = timeline.bars[n];
  if (bar === undefined) return '';
  return melodyOf(timeline)
    .filter((note) => note.start >= bar.start - 1e-6 && note.start < bar.end - 1e-6)
    .map((note) => nameOf(note.midi))
    .join(' ');
};
