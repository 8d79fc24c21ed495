import { formatRational } from '../core/index.ts';
import type { Listening } from './listenTo.ts';

const rounded = (value: number, digits: number): number => Number(value.toFixed(digits));
const ms = (time: number): number => rounded(time, 3);

/**
 * What `tuneladder listen --json` prints; others read it.
 * @param remarks - sentences for people
 */
export const listeningJson = (listening: Listening, remarks: readonly string[]): unknown => {
  const { tuning, tempo, swing } = listening;
  return {
    recording: { seconds: ms(listening.seconds), sampleRate: listening.rate },
    music: listening.music,
    tuning:
      tuning === null ? null : { cents: rounded(tuning.cents, 1), confidence: rounded(tuning.confidence, 2) },
    tempo:
      tempo === null
        ? null
        : { beatsPerMinute: rounded(tempo.beatsPerMinute, 1), beat: formatRational(tempo.beat) },
    swing:
      swing === null
        ? null
        : { ratio: rounded(swing.ratio, 2), spread: rounded(swing.spread, 2), pairs: swing.pairs },
    notes: listening.notes.map((n) => ({
      start: ms(n.start),
      end: ms(n.end),
      midi: rounded(n.midi, 2),
      ...(n.ornament === undefined ? {} : { ornament: n.ornament }),
    })),
    beats: listening.beats.map(ms),
    bars: listening.bars.map((b) => ({ number: b.number, part: b.part, pass: b.pass, start: ms(b.start) })),
    form: listening.form,
    transposition: listening.transposition,
    remarks,
  };
};
