import { type Diagnostic, isLess, rational, sum, wholeNotes } from '../../../core/index.ts';
import { barLengthOf, metre } from '../../../music/index.ts';
import { assembleParts, type LooseBar, type Tempo } from '../../../score/index.ts';
import type { ImportedTune } from '../../importedTune.ts';
import type { MidiSong } from '../midiSong.ts';
import { barsFrom, type MetreChange } from './barsFrom.ts';
import { foldRepeats } from './foldRepeats.ts';
import { type MidiVoice, voicesByPromise } from './melodyOf.ts';
import { onGrid } from './onGrid.ts';
import { readMidiSong } from './readMidiSong.ts';
import { keyByNotes, keyEndingOn } from './spell.ts';

const MICROSECONDS_A_MINUTE = 60_000_000;
/** Bars in a written line. Common practice. */
const BARS_IN_LINE = 4;

const eventsOf = (song: MidiSong) => song.tracks.flatMap((t) => t.events);

const metresOf = (song: MidiSong): readonly MetreChange[] => {
  const changes = eventsOf(song).flatMap((e) =>
    e.kind === 'timeSignature'
      ? [{ at: rational(e.tick, song.ticksPerCrotchet), metre: metre(e.count, e.unit) }]
      : [],
  );
  const [first] = changes;
  return first === undefined || first.at.num > 0
    ? [{ at: rational(0), metre: metre(4, 4) }, ...changes]
    : changes;
};

/** The first tempo, in crotchets. */
const tempoOf = (song: MidiSong): Tempo | null => {
  const found = eventsOf(song).find((e) => e.kind === 'tempo');
  if (found?.kind !== 'tempo') return null;
  const perMinute = Math.round(MICROSECONDS_A_MINUTE / found.microsecondsPerCrotchet);
  return { beat: wholeNotes(1, 4), beatsPerMinute: perMinute, words: '' };
};

/** The name of a track without notes: there the piece has its title. */
const titleOf = (song: MidiSong): string => {
  const [first] = song.tracks;
  const silent = first?.events.every((e) => e.kind !== 'noteOn') === true;
  const named = first?.events.find((e) => e.kind === 'trackName');
  const title = silent && named?.kind === 'trackName' ? named.text.replace(/\s+/g, ' ').trim() : '';
  return title === '' ? 'Untitled' : title;
};

const nameOf = ({ name }: MidiVoice): string => (name === '' ? 'a voice without a name' : `"${name}"`);

const remarksOn = (
  voices: readonly MidiVoice[],
  told: { readonly swung: boolean; readonly cut: boolean; readonly keyJudged: boolean },
): readonly Diagnostic[] => {
  const remark = (code: string, message: string): Diagnostic => ({ code, severity: 'remark', message });
  const [tune, ...others] = voices;
  const left = others.length === 0 ? '' : `; left out: ${others.map(nameOf).join(', ')}`;
  return [
    remark(
      'from-midi',
      `Read as the tune: ${tune === undefined ? '' : nameOf(tune)}${left}. A MIDI file has no ornament signs, bows or words: look through the bars, the key and the repeats.`,
    ),
    ...(told.swung
      ? [remark('swing-taken-out', 'The tune is played with swing; its pairs are written even.')]
      : []),
    ...(told.keyJudged ? [remark('key-judged', 'The file names no key; it was judged by the notes.')] : []),
    ...(told.cut ? [remark('cut-short', 'The file breaks off; what stands before is read.')] : []),
  ];
};

const isPickup = (bar: LooseBar | undefined): boolean => {
  const full = bar === undefined ? null : barLengthOf(bar.metre);
  return bar !== undefined && full !== null && isLess(sum(bar.events.map((e) => e.length)), full);
};

/** A line ends after every fourth full bar, and with the tune. */
const inLines = (bars: readonly LooseBar[]): readonly LooseBar[] => {
  const lead = isPickup(bars[0]) ? 1 : 0;
  return bars.map((bar, i) => {
    const full = i + 1 - lead;
    return { ...bar, lineEnd: (full > 0 && full % BARS_IN_LINE === 0) || i === bars.length - 1 };
  });
};

const withoutTune = (message: string): ImportedTune => ({
  score: null,
  diagnostics: [{ code: 'no-tune', severity: 'error', message }],
});

/**
 * Reads the melody of a Standard MIDI File as a tune.
 *
 * The likeliest voice is taken, its notes laid on a grid of semiquavers and triplets, swing taken out, keys that are
 * down for a moment read as grace notes, and what is played twice in a row written once. How a note was meant is not in
 * such a file: the result is a draft.
 * @returns the tune with number 1, or an error; and remarks on what was judged
 */
export const readMidi = (bytes: Uint8Array): ImportedTune => {
  const read = readMidiSong(bytes);
  if (read.kind === 'problem') return withoutTune(`This MIDI file cannot be read: ${read.message}`);
  const { song, cut } = read;
  const voices = voicesByPromise(song);
  const [tune] = voices;
  if (tune === undefined) return withoutTune('There are no notes in the MIDI file.');
  const { notes, swung } = onGrid(tune.keys, song.ticksPerCrotchet);
  const tops = notes.map((n) => n.keys[0] ?? 0);
  const signature = eventsOf(song).find((e) => e.kind === 'keySignature');
  const key =
    signature?.kind === 'keySignature'
      ? keyEndingOn(signature.fifths, tops.at(-1) ?? 0, signature.minor ? 'minor' : 'major')
      : keyByNotes(tops);
  const played = barsFrom(notes, metresOf(song), key);
  const { parts, diagnostics } = assembleParts(inLines(foldRepeats(played, isPickup(played[0]) ? 1 : 0)));
  const [opening] = played;
  if (opening === undefined) return withoutTune('There are no notes in the MIDI file.');
  return {
    score: {
      number: 1,
      fields: [{ code: 'T', value: titleOf(song) }],
      metre: opening.metre,
      key,
      unit: wholeNotes(1, 8),
      tempo: tempoOf(song),
      partOrder: null,
      parts,
    },
    diagnostics: [...remarksOn(voices, { swung, cut, keyJudged: signature === undefined }), ...diagnostics],
  };
};
