import type { MidiSong, MidiTrack } from '../midiSong.ts';

/** A key held down for a time. */
export interface HeldKey {
  readonly start: number;
  readonly end: number;
  readonly key: number;
}

/** A voice of the file: one channel of one track. */
export interface MidiVoice {
  readonly name: string;
  readonly program: number | null;
  readonly keys: readonly HeldKey[];
}

/** The channel whose keys are drums. Source: General MIDI level 1. */
const DRUMS = 10;
/** Source: General MIDI level 1, sound set: violin, viola, the pipe and reed sounds, fiddle; counted from 0. */
const MELODY_PROGRAMS: ReadonlySet<number> = new Set([40, 41, 64, 65, 68, 71, 72, 73, 74, 75, 78, 109, 110]);
/** Words in a track's name that say "this is the tune". Common practice. */
const MELODY_NAMES = /fiddle|violin|melody|tune|flute|whistle|pipe|lead|voice/i;
/** What speaks for a voice as the tune: its name, its sound, one note at a time, how high it lies. Ours. */
const WEIGHT = { name: 3, program: 2, oneAtATime: 2, semitone: 0.05 } as const;

const keysHeld = (track: MidiTrack, channel: number): readonly HeldKey[] => {
  const down = new Map<number, number[]>();
  const held: HeldKey[] = [];
  for (const event of track.events) {
    if ((event.kind !== 'noteOn' && event.kind !== 'noteOff') || event.channel !== channel) continue;
    if (event.kind === 'noteOn') {
      down.set(event.key, [...(down.get(event.key) ?? []), event.tick]);
      continue;
    }
    const start = down.get(event.key)?.shift();
    if (start !== undefined && event.tick > start) held.push({ start, end: event.tick, key: event.key });
  }
  return held.toSorted((a, b) => a.start - b.start || b.key - a.key);
};

const voicesOf = (song: MidiSong): readonly MidiVoice[] =>
  song.tracks.flatMap((track) => {
    const channels = [...new Set(track.events.flatMap((e) => (e.kind === 'noteOn' ? [e.channel] : [])))];
    const named = track.events.find((e) => e.kind === 'trackName');
    return channels
      .filter((channel) => channel !== DRUMS)
      .map((channel): MidiVoice => {
        const program = track.events.find((e) => e.kind === 'programChange' && e.channel === channel);
        return {
          name: named?.kind === 'trackName' ? named.text.trim() : '',
          program: program?.kind === 'programChange' ? program.program : null,
          keys: keysHeld(track, channel),
        };
      })
      .filter(({ keys }) => keys.length > 0);
  });

const promiseOf = ({ name, program, keys }: MidiVoice): number => {
  const overlapping = keys.filter((k, i) => (keys[i + 1]?.start ?? k.end) < (k.start + k.end) / 2).length;
  const height = keys.reduce((total, k) => total + k.key, 0) / keys.length;
  return (
    (MELODY_NAMES.test(name) ? WEIGHT.name : 0) +
    (program !== null && MELODY_PROGRAMS.has(program) ? WEIGHT.program : 0) +
    WEIGHT.oneAtATime * (1 - overlapping / keys.length) +
    WEIGHT.semitone * height
  );
};

/** The voices of a file, the one that is most likely the tune first. */
export const voicesByPromise = (song: MidiSong): readonly MidiVoice[] => {
  const voices = voicesOf(song);
  const most = Math.max(0, ...voices.map((v) => v.keys.length));
  // A voice of a few notes among long ones is a signal, no tune.
  const share = (v: MidiVoice): number => Math.min(1, (4 * v.keys.length) / most);
  return voices.toSorted((a, b) => promiseOf(b) * share(b) - promiseOf(a) * share(a));
};
