import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatRational, toNumber } from '../core/index.ts';
import { formatPitch, isHarsh } from '../music/index.ts';
import { readOne } from '../notation/testing/readOne.ts';
import { scoreArbitrary } from '../notation/testing/scoreArbitrary.ts';
import { type Bar, barsOf, fingerprintOf, type Score, writtenLengthOf } from '../score/index.ts';
import { DENSITIES, deriveVersions, fitOf, type Versions } from './index.ts';

const SEED = { seed: 20261131, numRuns: 60 };

// Small tunes of our own, one for each thing that bones must get through.
const TUNES: Readonly<Record<string, string>> = {
  reel: 'R:reel\nM:4/4\nL:1/8\nK:D\n|:AF|D2FA dAFA|Bcdf e2AF|D2FA dAFA|gfec d2:|',
  jig: 'R:jig\nM:6/8\nL:1/8\nK:Ador\n|:e|ABA cBA|edB def|gfe dBG|A3 A2:|',
  hornpipe: 'R:hornpipe\nM:4/4\nL:1/8\nK:G\n|:D2|G>BA>G F>GA>F|G2 (3BAG d2 c>B|A>cB>A G>FE>D|G2B2G2:|',
  strathspey: 'R:strathspey\nM:C\nL:1/8\nK:A\nA>BA<c e>fe<c|d>fe<c B2 B<d|c<ae>c d<fe>c|A<Ac>B A2 A2|]',
  polka: 'R:polka\nM:2/4\nL:1/8\nK:D\n|:fe dA|Bd AF|GB AG|FE D2:|',
  'semiquaver polka': 'R:polka\nM:2/4\nL:1/16\nK:D\n|:f2ed A2FA|BdcB A2FA|G2Bd A2FA|GFED D4:|',
  waltz: 'R:waltz\nM:3/4\nL:1/8\nK:G\n|:D2|G3A BA|G2D2E2|c3B AG|B4 D2|e3d cB|A2G2F2|G6|G4:|',
  march: 'R:march\nM:6/8\nL:1/8\nK:A\ne|A2A ABc|e3 c2e|f2a e2c|B3 B2e|A2A ABc|e3 a2g|fga edc|A3 A2|]',
  slide: 'R:slide\nM:12/8\nL:1/8\nK:D\n|:d2e f2d e2c d2A|B2d A2F G2E E3|d2e f2d e2c dBA|B2d A2F E2D D3:|',
  'slip jig': 'R:slip jig\nM:9/8\nL:1/8\nK:Edor\n|:BEE BEE dBA|BEE BEG FGA|BEE BAB dcB|AGF GEF D3:|',
  'three-two': 'R:hornpipe\nM:3/2\nL:1/8\nK:G\n|:G2BG d2dB e2d2|cdec B2AG A2D2|G2BG d2dB c2BA|B2G2 A2F2 G4:|',
  endings: 'R:reel\nM:4/4\nL:1/8\nK:G\n|:G2BG dGBG|A2cA eAcA|G2BG dBGB|1 AGFA G4:|2 AGFA G2z2||',
  ties: 'R:reel\nM:4/4\nL:1/8\nK:D\nd2fd A2d2-|d2fd gfed-|dcBA GABc|d2dc d4|]',
  triplets: 'R:reel\nM:4/4\nL:1/8\nK:D\n(3ABA FA d2(3fed|(3gfe (3fed e2A2|(3ABA FA d2fd|ecAc d4|]',
  'changing mode': 'M:6/8\nL:1/8\nK:A\nAce aec|dcB cAF|[K:Am]Ace aec|d2B A3|]',
  'five bars': 'R:reel\nM:4/4\nL:1/8\nK:G\nG2BG dGBG|cABG AFDF|G2Bd gdBd|ecAc BGdB|AFDF G4|]',
};

/** Quavers all through: something to take away in every bar. */
const RUNNING_REEL =
  'R:reel\nM:4/4\nL:1/8\nK:D\nDFAF dFAF|Bcdf edBA|DFAF BFAF|gfec dcBA|fdef gefd|edce dBAF|DFAF BFAF|gfec d2AF|]';

const versionsOf = (text: string, density: (typeof DENSITIES)[number] = 'usual'): Versions => {
  const at = text.lastIndexOf('\nK:');
  const end = text.indexOf('\n', at + 1);
  return deriveVersions(readOne(text.slice(end + 1), text.slice(0, end)).score, { density });
};

interface Struck {
  readonly from: number;
  readonly to: number;
  readonly pitch: string;
  readonly held: boolean;
}

/** Each bar's notes with onset and end in whole notes; `held`: goes on from a tie. */
const struckIn = (score: Score): readonly (readonly Struck[])[] => {
  let tied = false;
  return barsOf(score).map(({ bar }) => {
    let at = 0;
    return bar.events.flatMap((event) => {
      const from = at;
      at += toNumber(event.length);
      if (event.kind === 'rest') {
        tied = false;
        return [];
      }
      const held = tied;
      tied = event.tiedToNext;
      return [{ from, to: at, pitch: formatPitch(event.pitches[0]), held }];
    });
  });
};

const onsetKey = (note: Struck): string => `${note.from.toFixed(6)} ${note.pitch}`;

/** What must be true of the bones of any tune. */
const lawsHold = ({ bones, plain }: Versions): void => {
  const [thin, all] = [struckIn(bones), struckIn(plain)];
  barsOf(plain).forEach(({ bar }, i) => {
    const simpler = barsOf(bones)[i]?.bar as Bar;
    expect(formatRational(writtenLengthOf(simpler))).toBe(formatRational(writtenLengthOf(bar)));
    const plainOnsets = new Set((all[i] ?? []).filter((n) => !n.held).map(onsetKey));
    const bonesOnsets = (thin[i] ?? []).filter((n) => !n.held).map(onsetKey);
    expect(bonesOnsets.filter((onset) => !plainOnsets.has(onset))).toEqual([]);
    expect(bonesOnsets.length).toBeLessThanOrEqual(plainOnsets.size);
  });
};

const countOf = (score: Score): number =>
  struckIn(score)
    .flat()
    .filter((n) => !n.held).length;

describe.each(Object.entries(TUNES))('the bones of a tune: %s', (_, text) => {
  test('lie on its notes, at the same pitches, in full bars', () => lawsHold(versionsOf(text)));
  test('keep the note on every first beat', () => {
    const { bones, plain } = versionsOf(text);
    const firsts = (score: Score) => struckIn(score).map((bar) => bar.find((n) => n.from === 0)?.pitch);
    expect(firsts(bones)).toEqual(firsts(plain));
  });
  test('fit: no clash where everybody plays together', () => {
    const { bones, plain } = versionsOf(text);
    const fit = fitOf(bones, plain);
    expect(fit.fits).toBe(true);
    expect(fit.dissonances.filter((d) => d.strength === 'clash')).toEqual([]);
    expect(fit.words).toMatch(/^Fits\./);
  });
  test('bars that are alike have bones that are alike', () => {
    const { bones, plain } = versionsOf(text);
    const seen = new Map<string, string>();
    barsOf(plain).forEach(({ bar }, i) => {
      const simpler = barsOf(bones)[i]?.bar;
      if (simpler === undefined || bar.role !== 'full') return;
      const before = seen.get(fingerprintOf(bar));
      if (before !== undefined) expect(fingerprintOf(simpler)).toBe(before);
      seen.set(fingerprintOf(bar), fingerprintOf(simpler));
    });
  });
  test('never get thinner when they shall be fuller', () => {
    const counts = DENSITIES.map((density) => countOf(versionsOf(text, density).bones));
    expect(counts).toEqual([...counts].sort((a, b) => a - b));
  });
});

describe('the bones', () => {
  test('of a running reel are fewer notes, with crotchets in almost every bar', () => {
    const { bones, plain } = versionsOf(RUNNING_REEL);
    expect(countOf(bones)).toBeLessThan(countOf(plain) * 0.8);
    const full = barsOf(bones).filter(({ bar }) => bar.role === 'full');
    const withCrotchet = full.filter(({ bar }) => bar.events.some((e) => toNumber(e.length) >= 1 / 4));
    expect(withCrotchet).toHaveLength(full.length);
  });
  test('are not mere thinning: some bar keeps a quaver that thinning would drop', () => {
    const { bones } = versionsOf(TUNES.reel ?? '');
    const offGrid = struckIn(bones)
      .flat()
      .filter((n) => Math.round(n.from * 8) % 2 === 1);
    expect(offGrid.length).toBeGreaterThan(0);
  });
  test('of bars that are simple already are these bars', () => {
    const { bones, plain } = versionsOf('R:waltz\nM:3/4\nL:1/8\nK:G\nG2A2B2|d4B2|A2G2E2|D6|]');
    expect(barsOf(bones).map(({ bar }) => fingerprintOf(bar))).toEqual(
      barsOf(plain).map(({ bar }) => fingerprintOf(bar)),
    );
  });
  test('of a strathspey keep a snap', () => {
    const lengths = struckIn(versionsOf(TUNES.strathspey ?? '').bones)
      .flat()
      .map((n) => Number((n.to - n.from).toFixed(4)));
    expect(lengths).toContain(0.0625);
    expect(lengths).toContain(0.1875);
  });
  test('of a hornpipe keep its three closing crotchets', () => {
    const last = struckIn(versionsOf(TUNES.hornpipe ?? '').bones).at(-1);
    expect(last?.map((n) => n.to - n.from)).toEqual([0.25, 0.25, 0.25]);
  });
  test('keep the highest note of each part', () => {
    const { bones, plain } = versionsOf(TUNES.reel ?? '');
    const names = (score: Score) =>
      new Set(
        struckIn(score)
          .flat()
          .map((n) => n.pitch),
      );
    expect(names(plain).has('G5')).toBe(true);
    expect(names(bones).has('G5')).toBe(true);
  });
  test('of a strathspey leave its snaps paired: no bar with an odd number of strokes where plain has an even one', () => {
    const { bones, plain } = versionsOf(TUNES.strathspey ?? '');
    const odd = (score: Score) => struckIn(score).map((bar) => bar.length % 2 === 1);
    const plainOdd = odd(plain);
    expect(odd(bones).filter((isOdd, i) => isOdd && plainOdd[i] !== true)).toEqual([]);
  });
  test('of a march leave crotchet and two quavers alone (regression)', () => {
    const march = 'R:march\nM:4/4\nL:1/8\nK:G\nG2 GA BcdB|cBAG A2 de|d2 Bd c2 AF|G2 B2 G2 z2|]';
    const { bones } = versionsOf(march);
    const starts = struckIn(bones).map((bar) => bar.map((n) => n.from * 8));
    expect(starts.slice(0, 3)).toEqual([
      [0, 2, 3, 4, 6, 7],
      [0, 2, 3, 4, 6, 7],
      [0, 2, 3, 4, 6, 7],
    ]);
  });
  test('of equal crotchets in a waltz may differ where the bars do', () => {
    const waltz = 'R:waltz\nM:3/4\nL:1/8\nK:G\nGABc dB|A2FA d2|cBAG FA|B4D2|edcB AG|FGAF D2|GABG AF|G6|]';
    const { bones } = versionsOf(waltz);
    const bar = (i: number) => (struckIn(bones)[i] ?? []).map((n) => `${n.from * 8}${n.pitch}`).join(' ');
    expect(bar(2)).toBe('0C5 2A4 4F#4 5A4');
    expect(bar(4)).toBe('0E5 2C5 3B4 4A4');
  });
  test('of semiquavers in a jig hold no note from inside a quaver over the next one (regression)', () => {
    const jig =
      'R:jig\nM:6/8\nL:1/8\nK:G\nB/G/B/d/g/d/ b/a/g/f/e/d/|ecA EFG|c/B/A/B/c/A/ c/B/A/B/c/A/|dBG G3|]';
    for (const notes of struckIn(versionsOf(jig).bones))
      for (const { from, to } of notes)
        if (!Number.isInteger(from * 8)) expect(to).toBeLessThanOrEqual(Math.ceil(from * 8) / 8);
  });
  test('of a polka in quavers are the polka, and half a reel when they shall be sparser', () => {
    const { bones, plain } = versionsOf(TUNES.polka ?? '');
    expect(countOf(bones)).toBe(countOf(plain));
    const sparser = struckIn(versionsOf(TUNES.polka ?? '', 'sparser').bones);
    expect((sparser[0] ?? []).map((n) => n.from * 8)).toEqual([0, 2, 3]);
  });
  test('obey their laws on any tune that can be written', () => {
    fc.assert(
      fc.property(scoreArbitrary, (score) => lawsHold(deriveVersions(score, {}))),
      SEED,
    );
  });
});

describe('how versions fit', () => {
  test('a clash on a beat is named with bar, beat and both notes', () => {
    const held = readOne('G8|c8|').score;
    const struck = readOne('G4 G4|c4 B4|').score;
    const clash = fitOf(held, struck);
    expect(clash.fits).toBe(false);
    expect(clash.words).toMatch(/^Does not fit: bar 2 clashes on beat 3 \(B against C\)\.$/);
    const [place] = clash.dissonances.filter((d) => d.strength === 'clash');
    if (place === undefined) throw new Error('no clash');
    expect(isHarsh(place.held, place.struck)).toBe(true);
  });
  test.each([
    ['a passing note is none to listen for', 'G8|G4 G4|', 'G8|GFGF GABc|', 'Fits.'],
    ['one that is left by a leap is', 'G8|G4 G4|', 'G8|GFDG GABc|', 'Fits. Listen at bar 2.'],
    ['two are two', 'G4G4|G4 G4|', 'GFDG G4|GFDG GABc|', 'Fits. Listen at bars 1 and 2.'],
  ])('off the pulse, %s', (_, held, struck, words) => {
    const header = 'R:reel\nM:4/4\nL:1/8\nK:G';
    expect(fitOf(readOne(held, header).score, readOne(struck, header).score).words).toBe(words);
  });
  test('bars of different length are said', () => {
    expect(fitOf(readOne('G8|c8|').score, readOne('G8|c4|').score).words).toMatch(
      /different length at bar 2/,
    );
  });
  test('a version fits itself all the time', () => {
    const { plain } = versionsOf(TUNES.jig ?? '');
    expect(fitOf(plain, plain)).toMatchObject({
      fits: true,
      words: 'Fits.',
      pulsesInUnison: 1,
      timeInUnison: 1,
    });
  });
});
