import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { deflateRawSync } from 'node:zlib';
import {
  type Bank,
  type BankVoice,
  LIVE_GAIN,
  type SmallBank,
  smallBankBytes,
  smallBankOf,
} from '../audio/index.ts';
import { type Engraver, type ScreenMusic, type SheetVersion, screenMusic } from '../engrave/index.ts';
import {
  type Lesson,
  type PracticeData,
  type PracticeKey,
  type PracticeSet,
  type PracticeVersion,
  practiceDataOf,
  practiceKeysOf,
  titlesOf,
} from '../lesson/index.ts';
import { cornerWords, type TuneSet, timesWords } from '../sets/index.ts';
import { escapeHtml as h } from './html.ts';

/** Bars in a line that the page can choose from, by the room that it has. */
const BARS_IN_LINE = [1, 2, 4] as const;
/** The bundled page: what it does, how it looks, and what its sound thread does. */
interface PageBundle {
  readonly script: string;
  readonly style: string;
  readonly thread: string;
}

const BUNDLE = new URL('../practice.json', import.meta.url);
const BANK_LICENCE = new URL('../../assets/bank/LICENSE-FluidR3Mono.md', import.meta.url);

/** Every version alone, and each with the next fuller one. */
const picturesOf = (
  versions: readonly PracticeVersion[],
  engraver: Engraver,
  onLine: () => void,
): readonly ScreenMusic[] => {
  const drawn = versions.map(({ id, name, score }): SheetVersion => ({ id, name, score }));
  const alone = drawn.map((v): readonly [SheetVersion, ...SheetVersion[]] => [v]);
  const pairs = drawn.slice(1).map((v, i): readonly [SheetVersion, ...SheetVersion[]] => [drawn[i] ?? v, v]);
  return [...alone, ...pairs].flatMap((shown) =>
    BARS_IN_LINE.map((bars) => {
      onLine();
      return screenMusic(shown, bars, engraver);
    }),
  );
};

const byVoice = (keys: readonly PracticeKey[]): Readonly<Record<BankVoice, ReadonlySet<number>>> => {
  const of = (voice: BankVoice) =>
    new Set(keys.filter((k) => k.voice === voice).map((k) => Math.round(k.midi)));
  return { fiddle: of('fiddle'), guitar: of('guitar'), bass: of('bass'), piano: of('piano') };
};

const packed = (bytes: Uint8Array): string =>
  Buffer.from(deflateRawSync(bytes, { level: 9 })).toString('base64');

const bankPart = (bank: SmallBank): string => packed(smallBankBytes(bank));

const licencesOf = (bank: string): readonly string[] => [
  'The program of this page is part of Tuneladder, MIT licence. It contains fflate, © Arjun Barrett, MIT licence.',
  'Musical signs: the Leipzig font, SIL Open Font License 1.1 (scripts.sil.org/OFL); engraved with Verovio.',
  bank
    .replace(/^#+ .*$/gm, '')
    .replace(/[`*]/g, '')
    .trim(),
];

const sha256 = (text: string): string => createHash('sha256').update(text).digest('base64');

/** Nothing may be loaded from anywhere: the page's own script by its sum, threads from the page's own text. */
const policyOf = (script: string): string =>
  `default-src 'none'; script-src 'sha256-${sha256(script)}' data:; worker-src data:; style-src 'unsafe-inline'`;

const NO_SCRIPT =
  'This page plays and shows the tune, and for that it needs scripts. If you see it inside a mail or a messenger, save the file to your device and open it from there in a browser.';

/** "Reel in G major, 16 bars. Wren Aldercott", and the teacher where that is somebody else. */
const aboutLine = ({ summary, credit, teacher }: PracticeData): string =>
  [summary, credit, ...(teacher === '' || teacher === credit ? [] : ['·', teacher])].join(' ');

/** What a page is made with. */
interface PageTools {
  readonly engraver: Engraver;
  readonly bank: Bank;
}

/** All that a page carries of one tune. */
interface TuneParts {
  readonly data: PracticeData;
  readonly keys: readonly PracticeKey[];
  readonly music: readonly ScreenMusic[];
  readonly gain: number;
  readonly licences: readonly string[];
  readonly set?: PracticeSet;
}

/** @param onLine - called whenever one more layout is drawn */
const partsOf = async (data: PracticeData, engraver: Engraver, onLine: () => void): Promise<TuneParts> => ({
  data,
  keys: practiceKeysOf(data),
  music: picturesOf(data.versions, engraver, onLine),
  gain: LIVE_GAIN,
  licences: licencesOf(await readFile(BANK_LICENCE, 'utf8')),
});

/** What stands over the music before any script has run. */
interface PageHead {
  readonly title: string;
  readonly under: string;
}

/** A page with tunes in it; the first is shown where the address asks for none. */
const pageOf = async (
  tunes: readonly [TuneParts, ...TuneParts[]],
  { title, under }: PageHead,
  bank: Bank,
): Promise<string> => {
  const { script, style, thread } = JSON.parse(await readFile(BUNDLE, 'utf8')) as PageBundle;
  const small = smallBankOf(bank, byVoice(tunes.flatMap(({ keys }) => keys)));
  const language = tunes[0].data.words === 'us' ? 'en-US' : 'en-GB';
  const carried = tunes.map(
    (parts, i) =>
      `<script type="text/plain" id="lesson${i === 0 ? '' : i + 1}">${packed(new TextEncoder().encode(JSON.stringify(parts)))}</script>`,
  );
  return `<!doctype html>
<html lang="${language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">
<meta name="referrer" content="no-referrer">
<meta http-equiv="Content-Security-Policy" content="${h(policyOf(script))}">
<title>${h(title)}: to practise</title>
<style>${style}</style>
</head>
<body>
<main id="page">
<h1>${h(title)}</h1>
${under === '' ? '' : `<p class="under">${h(under)}</p>\n`}<noscript><p class="plain">${NO_SCRIPT}</p></noscript>
</main>
${carried.join('\n')}
<script type="text/plain" id="bank">${bankPart(small)}</script>
<script type="text/plain" id="thread">${thread}</script>
<script>${script}</script>
</body>
</html>
`;
};

/**
 * The learner's page of a lesson: one file that needs nothing else.
 *
 * No text of the lesson can become markup: what stands in the page itself is escaped, the rest is packed.
 */
export const practicePage = async (
  lesson: Lesson,
  { engraver, bank }: PageTools,
  onProgress: () => void,
): Promise<string> => {
  const data = practiceDataOf(lesson);
  const parts = await partsOf(data, engraver, onProgress);
  onProgress();
  return pageOf([parts], { title: data.title, under: aboutLine(data) }, bank);
};

/** The learner's page of a set: as `practicePage`, with all its tunes in one file, each at the set's tempi. */
export const setPracticePage = async (
  set: TuneSet,
  { engraver, bank }: PageTools,
  onProgress: () => void,
): Promise<string> => {
  const tunes = set.tunes.map(({ lesson, times }, i) => ({
    title: titlesOf(lesson)[0] ?? '',
    times: timesWords(times),
    corner: cornerWords(set, i),
  }));
  const all: TuneParts[] = [];
  for (const [place, { lesson, tempos }] of set.tunes.entries()) {
    const data = practiceDataOf(lesson);
    const inSet = { ...data, tempos: { ...data.tempos, ...tempos } };
    const parts = await partsOf(inSet, engraver, onProgress);
    all.push({ ...parts, set: { title: set.title, place, tunes } });
  }
  const [first, ...others] = all;
  if (first === undefined) throw new RangeError('setPracticePage: a set of no tunes');
  return pageOf([first, ...others], { title: set.title, under: '' }, bank);
};
