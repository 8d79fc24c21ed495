import { readFileSync } from 'node:fs';

/** Small invented tunes that use most of the syntax; two empty lines stand between them. */
const examples = (): readonly string[] =>
  readFileSync(new URL('../../src/notation/testing/examples.abc', import.meta.url), 'utf8').split('\n\n\n');

const tune = (number: number, title: string, header: string, music: string): string =>
  `X:${number}\nT:${title}\n${header}\n${music}\n`;

/** Signatures as ABC names them, in all modes: what is not the standard's spelling is left to the key test. */
const KEYS = [
  ...['C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'Cb'],
  ...['Am', 'Em', 'Bmin', 'F#minor', 'Dm', 'Gm', 'Cm'],
  ...[
    'Dmix',
    'AMixolydian',
    'Ador',
    'EDor',
    'Gdorian',
    'Ephr',
    'Flyd',
    'BLoc',
    'D mix',
    'none',
    'Hp',
    'HP',
    '',
  ],
];

const TUPLETS = ['(2AB', '(3ABc', '(4ABcd', '(5ABcde', '(6ABcdef', '(7ABcdefg', '(8ABcdefga', '(9ABcdefgab'];

const MUSIC: readonly (readonly [string, string])[] = [
  ['broken rhythm', 'A>B c<d e>>f g<<a|A>>>B A{g}<A A<{g}A|'],
  ['lengths', 'A2 A/2 A/ A// A3/2 A4 A/4 A3 z2 x2|'],
  ['rests', 'Z|Z2|z4 x4|'],
  ['accidentals', '^F F f =f F|F ^c C c, _b B|^^F F __B B =B B|'],
  ['ties', '^c4-|c c =c-c|[CE]2-[CE]2 A-A-A|'],
  ['chords', '[CEG]2 [C2E2G2] [C2E2G2]3 [DD] [ce]/|'],
  ['tuplet forms', '(3:2:2 G4c2 (3:2:4 G2A2Bc (3::2 AB (3:: ABc (5:4:5ABcde|'],
  ['graces', '{g}A {/g}A {gef}A {g}[Ae]|'],
  ['bar lines', 'A||A|]A[|A|:A:|A::A:|:A:|'],
  ['endings', '|:A|1 B:|2 c||d|[1,3 e:|[2,4 f:|[1-2 g:|[3 a||'],
  ['slurs', '(AB) (A(Bc)d) ({g}A B) (A|B)|'],
  ['marks', '.A ~A HA LA MA OA PA SA TA uA vA !trill!A !4!A|'],
  ['texts', '"G"A "^up"B "_down"c "<l"d ">r"e "@1,2 free"f|'],
  ['inline fields', 'A B [K:Dm] B [M:3/4] c [L:1/4] A [Q:1/4=100] A|B [K:F#] f|'],
  ['lines', 'ABc\\\nd e|\nf g\nK:Eb\nB e|\nM:2/4\nA B|'],
  ['overlay', 'A4 B4 & C8|c8|'],
  ['voices', '[V:1] A4 B4|\n[V:2] C8|\n[V:1] c8|\n[V:2] D8|'],
  ['spacers and beams', 'AB y cd A`B e f|'],
  ['octaves', "C,, C, C c c' c''|"],
];

/** Invented tunes that use the syntax which the corpora use little or not at all, one thing each. */
export const exampleTexts = (): readonly { readonly name: string; readonly text: string }[] => [
  // abcjs is given one tune at a time: without what a file's header says for all of them.
  ...examples().map((text, i) => ({ name: `example ${i + 1}`, text: text.slice(text.indexOf('X:')) })),
  ...KEYS.map((key, i) => ({
    name: `key ${key}`,
    text: tune(i + 1, 'Key', `M:4/4\nL:1/8\nK:${key}`, 'CDEF GABc|'),
  })),
  ...['4/4', '6/8', '9/8', '3/4', 'C', 'C|', '2/2', '12/8', '3/2', '2/4', 'none'].map((metre, i) => ({
    name: `tuplets in ${metre}`,
    text: tune(i + 1, 'Tuplets', `M:${metre}\nL:1/8\nK:C`, `${TUPLETS.join(' ')}|`),
  })),
  ...['2/4', '4/4', '6/8', '3/4', 'C', 'C|', '3/8', 'none', '9/8', '2/2'].map((metre, i) => ({
    name: `default length in ${metre}`,
    text: tune(i + 1, 'Length', `M:${metre}\nK:C`, 'A A2 B|'),
  })),
  ...MUSIC.map(([name, music], i) => ({ name, text: tune(i + 1, name, 'M:4/4\nL:1/8\nK:G', music) })),
];
