import { danceOfScore, difficultyOf } from '../../src/fiddle/index.ts';
import { notesOf, type Score } from '../../src/score/index.ts';
import { deriveVersions } from '../../src/versions/index.ts';

/** Bars and tunes in which a simpler version came out harder, and how hard versions are. */
export interface EaseTally {
  bars: number;
  tunes: number;
  plainHarderBars: number;
  bonesHarderBars: number;
  harderTunes: number;
  /** Tunes from whose plain version the bones took notes, and those of them that got strictly easier. */
  lightened: number;
  easier: number;
  readonly work: { readonly full: number[]; readonly plain: number[]; readonly bones: number[] };
}

/** An empty tally. */
export const newEaseTally = (): EaseTally => ({
  bars: 0,
  tunes: 0,
  plainHarderBars: 0,
  bonesHarderBars: 0,
  harderTunes: 0,
  lightened: 0,
  easier: 0,
  work: { full: [], plain: [], bones: [] },
});

const ROUNDING = 1e-9;

/** Adds a tune's three versions to the tally, all at one pace. */
export const tallyEase = (score: Score, tally: EaseTally): void => {
  const versions = deriveVersions(score);
  const dance = danceOfScore(score);
  const [full, plain, bones] = [versions.full, versions.plain, versions.bones].map((v) =>
    difficultyOf(v, { dance }),
  );
  if (full === undefined || plain === undefined || bones === undefined) return;
  tally.tunes += 1;
  full.bars.forEach((bar, i) => {
    tally.bars += 1;
    const [p, b] = [plain.bars[i]?.work ?? 0, bones.bars[i]?.work ?? 0];
    if (p > bar.work + ROUNDING) tally.plainHarderBars += 1;
    if (b > p + ROUNDING) tally.bonesHarderBars += 1;
  });
  if (plain.work > full.work + ROUNDING || bones.work > plain.work + ROUNDING) tally.harderTunes += 1;
  if (notesOf(versions.bones).length < notesOf(versions.plain).length) {
    tally.lightened += 1;
    if (bones.work < plain.work - ROUNDING) tally.easier += 1;
  }
  tally.work.full.push(full.work);
  tally.work.plain.push(plain.work);
  tally.work.bones.push(bones.work);
};
