import {
  bestStayDowns,
  bowingOf,
  handMarksOf,
  stayDownMark,
  stayDownsOf,
  withHandMarks,
} from '../../fiddle/index.ts';
import { danceOf, formatMetre, keyName } from '../../music/index.ts';
import { readAbc } from '../../notation/index.ts';
import { addressKey, fieldsOf, runningNoteOf, type Score, titleOf } from '../../score/index.ts';
import { DEFAULT_ORNAMENT_WORDS, type SheetPlan, type SheetVersion } from '../sheetPlan.ts';

/** Tunes made up for looking at sheets; all ours. */
export const SAMPLES = {
  dressedReel: `X:1
T:Dressed from Head to Foot
C:Wren Aldercott
S:The setting taught at the Tuesday class
R:reel
M:C|
L:1/8
K:D
|:(DE)|"D"v~F3A "F#m7"[Dd]2u(fd)|"Bb/D"(e^g)fe d{c}BA!1!F|"G"!slide!G3B "A"(3AAA (3Bcd|{ef}g2 fe dB!4!A!0!F|
"D"v~F3A "F#m"[Dd]2u(fd)|"Em"(ef)fe d{c}BAF|"G"G2GB "A"(3AAA (3Bcd|1"D"(dA)FE D2:|2"D"(dA)FA d2||
|:(fg)|"D"a2{b}af dfaf|"G"(bg)eg "A"(ge)ce|"D"vafdf "Bm"~f3e|"Em"!slide!e2{f}ed "A"(cAB)c|
"D"~f3a (af)df|"G"~g3b "A"(ag)eg|"F#m"(fd)ec "Bm"dBAF|"Em"(EG)"A"FE "D"[A,D]2:|`,
  dorianJig: `X:2
T:The Heron's Umbrella
C:Wren Aldercott
R:jig
M:6/8
L:1/8
K:Ador
|:G|"Am"EA{c}A (AB)d|e2d (BA)B|"G"G2B (dB)G|(BA)G E2G|
"Am"EA{c}A (AB)d|e2d (Bd)e|"G"(ge)d (BA)G|"Am"A3 A2:|
|:d|"Am"ea{b}a (ab)a|"G"(ge)d ~B3|GAB (dB)G|"Em"(AB)d e2d|
"Am"ea{b}a (ab)a|"G"(ge)d (Bd)e|(ge)d "Em"(BA)G|"Am"A3 A2:|`,
  dottedHornpipe: `X:3
T:Two Left Boots
C:Wren Aldercott
R:hornpipe
M:4/4
L:1/8
K:Eb
|:(3Bcd|"Eb"e>dc>B G>Be>g|"Ab"a>fc>A "Bb7"F>D (3Bcd|"Eb"(e>g)B>e "Cm"G>cB>G|"Fm"F>=EF>G "Bb"F2 (3Bcd|
"Eb"e>dc>B G>Be>g|"Ab"a>fc>A "Bb7"F>D (3Bcd|"Eb"e>gb>g "Bb7"a>f_d>=d|"Eb"e2 g2 e2:|
|:(3efg|"Eb"b>ge>g B>eg>b|"Ab"c'>ae>c A>ce>a|"Bb"b>f=e>f d>fb>d|"Eb"e>de>f g2 (3efg|
"Eb"b>ge>g B>eg>b|"Ab"c'>ae>c A>ce>a|"Bb"b>af>d B>cd>f|"Eb"e2 g2 e2:|`,
  longTitleSlipJig: `X:4
T:A Walk Round the Nine Acre Field & Back <b>by the Long Road</b>, with a Very Long Title that Nobody Will Ever Read to Its End Because It Goes On and On
C:Wren Aldercott
R:slip jig
M:9/8
L:1/8
K:Dmix
|:"D"dAF (GE)G (FE)D|dAF GAB ~c3|dAF (GE)G (FE)D|"C"E{F}EC (GE)C "D"D3:|
|:"D"d2e (fd)f (ec)A|d2e (fd)f g3|"C"(af)d (ge)c (dB)G|(Ac)A (GE)C "D"D3:|`,
  polka: `X:5
T:Kettle on the Step
C:Wren Aldercott
R:polka
M:2/4
L:1/8
K:D
|:"D"fA BA|fA d2|"Em"ef ed|"A"Bc d/e/c|"D"fA BA|fA d2|"A"ef ec|"D"d2 d2:|
|:"G"g>f ed|"D"f>e dA|"A"ef ec|"D"df a2|"G"g>f ed|"D"f>e dA|"A"ef ec|"D"d2 d2:|`,
  writtenOutReel: `X:6
T:Thirty-Two Crows
C:Wren Aldercott
R:reel
M:4/4
L:1/8
K:G
P:A
"G"~G3B dGBG|"Am"A2{d}cA eAcA|"G"~G3B dGBd|"D"(cA)FA "G"G2 (3GAB|"G"~G3B dGBG|"Am"A2{d}cA eAcA|"G"(Bd)gf "C"(ed)cB|"D"cAFA "G"G4||
P:B
"G"g2(dg) Bgdg|"Am"e2(ae) ceae|"G"g2(dg) Bgdg|"D"(fd)ef "G"g2 (3gga|"G"g2(dg) Bgdg|"Am"e2(ae) ceae|"G"(dB)gf "C"(ed)cB|"D"cAFA "G"G4||
P:C
"Em"(EG)GE BEGE|"D"D2(FD) ADFD|"Em"(EG)GE BEGB|"D"AFDF "Em"[Ee]4|"Em"(EG)GE BEGE|"D"D2(FD) ADFD|"C"EGce "D"dcAF|"G"G2B2 [G,G]4||
P:D
"G"(3BBB GB dGBG|"Am"(3ccc Ac eAcA|"G"(3BBB GB dGBd|"D"(cA)FA "G"G2 (3GAB|"G"(3BBB GB dGBG|"Am"(3ccc Ac eAcA|"G"(Bd)gf "C"(ed)cB|"D"cAFA "G"[G,G]4|]`,
} as const;

/** A sample read. */
export const sampleScore = (name: keyof typeof SAMPLES): Score => {
  const score = readAbc(SAMPLES[name]).tunes[0]?.score;
  if (score === undefined) throw new Error(`no tune in ${name}`);
  return score;
};

/** A sheet of a sample; `together` prints it three times bar under bar. */
export const samplePlan = (
  name: keyof typeof SAMPLES,
  changes: Partial<SheetPlan> & { readonly together?: boolean } = {},
): SheetPlan => {
  const { together = false, ...other } = changes;
  const score = sampleScore(name);
  const version = (id: string, title: string): SheetVersion => ({ id, name: title, score });
  const { dance } = danceOf(fieldsOf(score, 'R')[0], score.metre, runningNoteOf(score));
  return {
    title: titleOf(score),
    subtitle: together ? 'All three together' : 'Full version',
    dance: dance.name,
    credit: [...fieldsOf(score, 'C'), ...fieldsOf(score, 'S')],
    keyAndMetre: `${keyName(score.key)}, ${formatMetre(score.metre)}`,
    tempos: [
      { beat: dance.beat, beatsPerMinute: dance.tempo.learn, words: 'to learn' },
      { beat: dance.beat, beatsPerMinute: dance.tempo.steady, words: 'steady' },
    ],
    versions: together
      ? [version('bones', 'The bones'), version('plain', 'All the notes'), version('full', 'Full version')]
      : [version('full', 'Full version')],
    paper: 'A4',
    teacher: 'Wren Aldercott',
    date: '25 November 2026',
    words: 'british',
    ornaments: DEFAULT_ORNAMENT_WORDS,
    largePrint: false,
    ...other,
  };
};

/** A plan with the marks of the hands on its first version: fingers, bows, brackets where a finger stays down. */
export const withHands = (plan: SheetPlan): SheetPlan => {
  const [first, ...others] = plan.versions;
  const { score } = first;
  const bowing = bowingOf(score);
  const marks = handMarksOf(score, { level: 'some', bowing });
  const stayDowns = bestStayDowns(score, stayDownsOf(score));
  const seconds = marks.fingers.flatMap(({ address, second }) =>
    second === null ? [] : [[addressKey(address), second] as const],
  );
  const marked: SheetVersion = {
    ...first,
    score: withHandMarks(score, { ...marks, fingers: [...marks.fingers, ...stayDowns.map(stayDownMark)] }),
    hands: {
      stayDowns,
      seconds: new Map(seconds),
      bows: new Map(bowing.filter((n) => n.begins).map((n) => [addressKey(n.address), n.bow])),
    },
  };
  return { ...plan, versions: [marked, ...others] };
};
