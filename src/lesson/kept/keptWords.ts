import type { WholeNotes } from '../../core/index.ts';
import { notatedBeatOf } from '../../music/index.ts';
import type { Bar, Score } from '../../score/index.ts';
import { clashWords } from '../../versions/index.ts';
import { attachedLabel, barAt } from '../barLabel.ts';
import { barWord, joined, lengthBeside, type Words } from '../words.ts';
import type { KeptState } from './keptBars.ts';

/** A kept bar in words, for reports and for the teacher. */
export interface KeptRemark {
  /** Whether the version has the bar as it was kept. */
  readonly inForce: boolean;
  /** Whether there is something that the teacher should look at. */
  readonly asks: boolean;
  /** One or more sentences. */
  readonly words: string;
}

interface Given {
  readonly plain: Score;
  readonly words: Words;
  /** Name of a version by its id; null where the lesson has none. */
  readonly nameOf: (id: string) => string | null;
}

/** "D4 F♯4 A4": the pitches of a fingerprint. */
const soundOf = (fingerprint: string): string => {
  const notes = fingerprint
    .split(' ')
    .map((token) =>
      token.startsWith('z')
        ? 'rest'
        : (token.split(':')[0] ?? '')
            .replaceAll('#', '♯')
            .replace(/(?<=^[A-G])b+/, (b) => b.replaceAll('b', '♭')),
    );
  return notes.join(' ');
};

const beatOf = (onset: WholeNotes, bar: Bar | undefined): number => {
  const beat = bar === undefined ? { num: 1, den: 4 } : notatedBeatOf(bar.metre);
  return 1 + Math.floor((onset.num * beat.den) / (onset.den * beat.num));
};

/** A sentence or two on what has become of a kept bar. */
export const keptRemark = (state: KeptState, given: Given): KeptRemark => {
  const { kept, found, outcome } = state;
  const label = attachedLabel(found, kept.anchor.part, given.plain, given.words);
  const { words } = given;
  const waits = (why: string): KeptRemark => ({ inForce: false, asks: true, words: why });
  const changed = state.changed ? ` The ${barWord(words)} has changed in the tune since.` : '';
  switch (outcome.kind) {
    case 'orphan':
    case 'noBar':
      return waits(
        `${label} was kept, but the ${barWord(words)} is no longer in the tune (${soundOf(kept.anchor.plain)}). It stays in the lesson and comes back with its ${barWord(words)}; or keep it elsewhere, or forget it.`,
      );
    case 'noVersion':
      return waits(
        `${label} was kept for a version "${kept.version}" that this lesson does not have. It stays in the lesson.`,
      );
    case 'doubled':
      return waits(`${label} was kept twice; the first one counts.`);
    case 'wrongLength':
      return waits(
        `${label}: the kept ${barWord(words)} lasts ${lengthBeside(outcome.kept, outcome.plain, words)}, the tune's ${lengthBeside(outcome.plain, outcome.kept, words)}.${changed} It stays in the lesson; meanwhile the derived ${barWord(words)} is used.`,
      );
    case 'inForce': {
      const name = given.nameOf(kept.version);
      const where = name === null || kept.version === 'bones' ? '' : ` (${name})`;
      const clash =
        outcome.clashes.length === 0
          ? ''
          : ` It clashes with all the notes ${joined([...new Set(outcome.clashes.map(clashWords))])}.`;
      const bar = found.kind === 'orphan' ? undefined : barAt(given.plain, found.anchor);
      const beats = [...new Set(outcome.newOnsets.map((onset) => String(beatOf(onset, bar))))];
      const own =
        beats.length === 0
          ? ''
          : ` It strikes a note in beat ${joined(beats)} where all the notes have none.`;
      const as =
        kept.everywhere === true
          ? `${label}${where} and all ${barWord(words)}s equal to it are as you kept them.`
          : `${label}${where} is as you kept it.`;
      return {
        inForce: true,
        asks: clash !== '' || changed !== '',
        words: `${as}${changed}${clash}${own}`,
      };
    }
    default:
      return outcome satisfies never;
  }
};

/** "7 quavers": a length in the note that measures it and the length that it is compared with. */
