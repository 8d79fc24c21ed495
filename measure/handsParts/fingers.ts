import { toNumber } from '../../src/core/index.ts';
import { danceOfScore, type Fingered, fingeringOf, runningUnitOf } from '../../src/fiddle/index.ts';
import { midiOf } from '../../src/music/index.ts';
import { addressKey, type Note, notesOf, type Score } from '../../src/score/index.ts';

/**
 * The finger that most of ten professionals chose in first position, by MIDI number.
 *
 * Source: TNUA violin fingering data set (Jen et al., IUI 2021, doi 10.1145/3397481.3450661), shares as counted.
 */
export const PROFESSIONALS: ReadonlyMap<number, string> = new Map([
  [55, 'G0'],
  [57, 'G1'],
  [58, 'G2'],
  [59, 'G2'],
  [60, 'G3'],
  [61, 'G3'],
  [62, 'D0'],
  [63, 'D1'],
  [64, 'D1'],
  [65, 'D2'],
  [66, 'D2'],
  [67, 'D3'],
  [68, 'D3'],
  [69, 'A0'],
  [70, 'A1'],
  [71, 'A1'],
  [72, 'A2'],
  [73, 'A2'],
  [74, 'A3'],
  [75, 'A3'],
  [76, 'E0'],
  [77, 'E1'],
  [78, 'E1'],
  [79, 'E2'],
  [80, 'E2'],
  [81, 'E3'],
  [82, 'E4'],
  [83, 'E4'],
]);

/** Shares of the open string among the professionals' A4 and E5, D4. Same source. */
export const PROFESSIONALS_OPEN = { D4: 0.91, A4: 0.75, E5: 0.61 } as const;

/** What was counted over many tunes. */
export interface FingerTally {
  /** By MIDI number: how often each string and finger. */
  readonly used: Map<number, Map<string, number>>;
  notes: number;
  /** Notes from G3 to B5, and those of them that were fingered. */
  within: number;
  fingered: number;
  /** Open strings struck there and back in a run where the fourth finger would have stayed on its string. */
  needless: number;
  /** All places where the fourth finger would have stayed. */
  couldStay: number;
  /** Pairs of pitches at once, and those laid on two neighbouring strings. */
  pairs: number;
  pairsLaid: number;
}

/** An empty tally. */
export const newFingerTally = (): FingerTally => ({
  used: new Map(),
  notes: 0,
  within: 0,
  fingered: 0,
  needless: 0,
  couldStay: 0,
  pairs: 0,
  pairsLaid: 0,
});

const [LOWEST, HIGHEST] = [55, 83];
const STRINGS = 'GDAE';
/** Open strings and the string below, on which the fourth finger has the same pitch. */
const BELOW = new Map([
  [62, 'G'],
  [69, 'D'],
  [76, 'A'],
]);

interface Played {
  readonly note: Note;
  readonly hold: Fingered | undefined;
}

const couldStay = (a: Played | undefined, b: Played, c: Played | undefined, running: number): boolean => {
  const string = BELOW.get(midiOf(b.note.pitches[0]));
  const bare = b.note.graces === null && b.note.signs.length === 0 && b.note.pitches.length === 1;
  const runs = [a, b, c].every((p) => p !== undefined && toNumber(p.note.length) <= running * 1.01);
  const stopped = [a, c].every((p) => p?.hold?.string === string && p?.hold?.finger !== 0);
  return string !== undefined && bare && runs && stopped && b.note.fingers.length === 0;
};

/** Adds a tune's fingering to the tally. */
export const tallyFingers = (score: Score, tally: FingerTally): void => {
  const holds = new Map(fingeringOf(score).map((f) => [addressKey(f.address), f]));
  const running = toNumber(runningUnitOf(danceOfScore(score), score.metre));
  const played: readonly Played[] = notesOf(score).map(({ note, address }) => ({
    note,
    hold: holds.get(addressKey(address)),
  }));
  notesOf(score).forEach(({ note, address }, i) => {
    const midi = midiOf(note.pitches[0]);
    const own = played[i];
    if (own === undefined) return;
    tally.notes += 1;
    if (midi >= LOWEST && midi <= HIGHEST) {
      tally.within += 1;
      if (own.hold !== undefined) tally.fingered += 1;
    }
    if (own.hold?.position === 1) {
      const fingers = tally.used.get(midi) ?? new Map<string, number>();
      const name = `${own.hold.string}${own.hold.finger}`;
      tally.used.set(midi, fingers.set(name, (fingers.get(name) ?? 0) + 1));
    }
    if (couldStay(played[i - 1], own, played[i + 1], running)) {
      tally.couldStay += 1;
      if (own.hold?.finger === 0) tally.needless += 1;
    }
    if (note.pitches.length === 2) {
      tally.pairs += 1;
      const beside = holds.get(addressKey({ ...address, tone: 1 }));
      const laid = [own.hold, beside].map((h) => (h === undefined ? -9 : STRINGS.indexOf(h.string)));
      if (Math.abs((laid[0] ?? 0) - (laid[1] ?? 0)) === 1) tally.pairsLaid += 1;
    }
  });
};

/** The string and finger most used for a pitch, and the open string's share. */
export const usualFinger = (
  tally: FingerTally,
  midi: number,
): { readonly usual: string; readonly open: number } => {
  const fingers = [...(tally.used.get(midi) ?? [])].sort((a, b) => b[1] - a[1]);
  const all = fingers.reduce((sum, [, n]) => sum + n, 0);
  const open = fingers.filter(([name]) => name.endsWith('0')).reduce((sum, [, n]) => sum + n, 0);
  return { usual: fingers[0]?.[0] ?? '', open: all > 0 ? open / all : 0 };
};
