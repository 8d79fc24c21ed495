import { formatRational } from '../core/index.ts';
import { clockTime } from '../lesson/index.ts';
import type { Listening } from '../listen/index.ts';

const signed = (value: number): string =>
  `${value > 0 ? '+' : value < 0 ? '−' : '±'}${Math.abs(Math.round(value))}`;

/** What `listen` prints for people. */
export const listenWords = (
  listening: Listening,
  remarks: readonly string[],
  chapters: readonly string[],
): readonly string[] => {
  const { tuning, tempo, swing, form } = listening;
  const counted = listening.bars.filter((b) => b.number !== null).length;
  const facts: readonly (readonly [string, string | null])[] = [
    ['length', clockTime(listening.seconds)],
    [
      'tuning',
      tuning === null
        ? null
        : `${signed(tuning.cents)} cents from A = 440 Hz (sure to ${Math.round(100 * tuning.confidence)} %)`,
    ],
    [
      'tempo',
      tempo === null
        ? null
        : `${tempo.beatsPerMinute.toFixed(0)} beats a minute (beat ${formatRational(tempo.beat)})`,
    ],
    [
      'swing',
      swing === null
        ? null
        : `${swing.ratio.toFixed(2)} : 1, half of ${swing.pairs} pairs within ±${swing.spread.toFixed(2)}`,
    ],
    ['form', form === null ? null : `${form}, ${counted} bars`],
    [
      'notes',
      listening.notes.length === 0
        ? null
        : `${listening.notes.length} heard (a draft, not a transcription to trust)`,
    ],
  ];
  return [
    ...facts.flatMap(([what, fact]) => (fact === null ? [] : [`${what.padEnd(8)}${fact}`])),
    ...remarks,
    ...(chapters.length === 0 ? [] : ['', ...chapters]),
  ];
};
