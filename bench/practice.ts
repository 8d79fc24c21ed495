import { readFileSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import type { MeasureRow, MeasureTable } from '../measure/table.ts';
import { BROWSER, openBrowser } from './practiceParts/browser.ts';
import { cursorErrors, fiddleAlone, LISTENER, type Waits, waitsOf } from './practiceParts/listening.ts';
import { practicePageOf } from './practiceParts/practicePage.ts';

const ROOT = new URL('../', import.meta.url);
const TUNE = 'demo/lessons/the-lantern-at-hollin-quay/tune.abc';
const MOST_BYTES = 1.5e6;
const ROUNDS = 5;
/** How long the page plays while its cursor is watched, milliseconds. */
const WATCHED = 15_000;
/** Notes that the cursor is measured at: some eight bars of the bones. */
const CURSOR_NOTES = 40;

const middleOf = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

/** A 32-bar tune with no repeats to save paper: the demo reel with its parts written out. */
const longTune = (): string => {
  const abc = readFileSync(new URL(TUNE, ROOT), 'utf8');
  const at = abc.indexOf('|:');
  const music = abc.slice(at).replaceAll('|:', '|').replaceAll(':|', '|').trim();
  return `${abc.slice(0, at)}${music}\n${music}\n`;
};

/** Milliseconds from opening the file until "Play" can be touched. */
const readyTimes = async (browser: Browser, url: string): Promise<readonly number[]> => {
  const times: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
    await page.goto(url, { waitUntil: 'commit' });
    await page.waitForFunction(() => document.querySelector<HTMLButtonElement>('#play')?.disabled === false);
    times.push(await page.evaluate(() => performance.now()));
    await page.close();
  }
  return times;
};

/** Counts what the page's worklet costs: its share of the time that it has. */
const LOAD = `
const made = AudioWorklet.prototype.addModule;
AudioWorklet.prototype.addModule = function (address) {
  const script = decodeURIComponent(address.slice(address.indexOf(',') + 1));
  const counted = 'const register = registerProcessor; let spent = 0, blocks = 0, worst = 0; globalThis.registerProcessor = (name, Made) => { const process = Made.prototype.process; Made.prototype.process = function (i, o) { const from = Date.now(); const goes = process.call(this, i, o); const took = Date.now() - from; spent += took; worst = Math.max(worst, took); blocks += 1; if (blocks % 400 === 0) this.port.postMessage({ kind: "load", spent, blocks, worst }); return goes; }; register(name, Made); };';
  return made.call(this, 'data:text/javascript,' + encodeURIComponent(counted + script));
};
const port = Object.getOwnPropertyDescriptor(MessagePort.prototype, 'onmessage');
Object.defineProperty(MessagePort.prototype, 'onmessage', { ...port, set(hear) {
  port.set.call(this, (event) => { if (event.data?.kind === 'load') window.load = event.data; hear(event); });
} });
`;

interface Playing {
  /** Share of the audio thread's time. */
  readonly load: number;
  readonly worst: number;
  /** Milliseconds between a frame that is drawn and the next. */
  readonly frame: number;
}

const playing = async (browser: Browser, url: string): Promise<Playing> => {
  const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
  await page.addInitScript(LOAD);
  await page.goto(`${url}#full,at100`);
  await page.waitForFunction(() => document.querySelector<HTMLButtonElement>('#play')?.disabled === false);
  await page.click('#play');
  const frames = await page.evaluate(
    (until) =>
      new Promise<number[]>((done) => {
        const gaps: number[] = [];
        const start = performance.now();
        let before = start;
        const frame = (now: number): void => {
          gaps.push(now - before);
          before = now;
          if (now - start < until) requestAnimationFrame(frame);
          else done(gaps);
        };
        requestAnimationFrame(frame);
      }),
    WATCHED,
  );
  const load = await page.evaluate(
    () => (window as unknown as { load: { spent: number; blocks: number; worst: number } }).load,
  );
  await page.close();
  const given = (1000 * 128 * load.blocks) / 44_100;
  return { load: load.spent / given, worst: load.worst, frame: middleOf(frames) };
};

/** Opens the page with a listener in it, ready to play. */
const listenedTo = async (browser: Browser, address: string): Promise<Page> => {
  const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
  await page.addInitScript(LISTENER);
  await page.goto(address);
  await page.waitForFunction(() => document.querySelector<HTMLButtonElement>('#play')?.disabled === false);
  await fiddleAlone(page);
  return page;
};

/** Milliseconds between each note's sound and its light, one way of making the sound. */
const cursorOff = async (browser: Browser, address: string): Promise<readonly number[]> => {
  const page = await listenedTo(browser, address);
  const errors = await cursorErrors(page, longTune(), CURSOR_NOTES);
  await page.close();
  return errors.map(({ id, wanted, off }) => (id === wanted ? 1000 * off : Number.NaN));
};

const waits = async (browser: Browser, address: string): Promise<Waits> => {
  const page = await listenedTo(browser, address);
  const measured = await waitsOf(page);
  await page.close();
  return measured;
};

/** The cursor and the wishes, for both ways of making the sound. */
const heardRows = async (browser: Browser, url: string): Promise<readonly MeasureRow[]> => {
  const rows: MeasureRow[] = [];
  for (const way of ['worklet', 'pieces']) {
    const address = way === 'pieces' ? `${url}#pieces` : url;
    const off = await cursorOff(browser, address);
    const middle = middleOf(off);
    const nearly = off.toSorted((a, b) => a - b)[Math.floor(0.95 * off.length)] ?? Number.NaN;
    const { play, fader } = await waits(browser, address);
    rows.push(
      row(
        `${way}: cursor off its sound, ms, middle and 95 of 100`,
        `${Math.round(middle)}, ${Math.round(nearly)}`,
        'middle ≤ 30',
        middle <= 30,
      ),
      row(`${way}: from "Play" to the first sound, ms`, Math.round(play), 'reported', null),
      row(`${way}: from a fader pulled down to silence, ms`, Math.round(fader), 'reported', null),
    );
  }
  return rows;
};

const row = (what: string, ours: number | string, target: string, holds: boolean | null): MeasureRow => ({
  what,
  ours,
  target,
  holds,
});

/** How large is the practice page, how soon is it ready, and what does it cost while it plays? */
export const table = async (): Promise<MeasureTable> => {
  const title = 'The practice page: a reel of 32 printed bars, three versions, on a phone-sized screen';
  const command = 'npm run bench -- practice';
  if (!BROWSER) return { title, command, rows: [], skipped: 'chromium is not installed' };
  const folder = await mkdtemp(join(tmpdir(), 'tuneladder-practice-'));
  const browser = await openBrowser();
  try {
    const html = await practicePageOf(longTune());
    const file = join(folder, 'practice.html');
    await writeFile(file, html);
    const url = pathToFileURL(file).href;
    const ready = middleOf(await readyTimes(browser, url));
    const { load, worst, frame } = await playing(browser, url);
    return {
      title,
      command,
      rows: [
        row('size, MB', Number((html.length / 1e6).toFixed(2)), '≤ 1.5', html.length <= MOST_BYTES),
        row('opened until ready to play, ms', Math.round(ready), '≤ 2000', ready <= 2000),
        row('audio thread: share of its time', `${(100 * load).toFixed(1)} %`, 'reported', null),
        row('audio thread: longest block of 2.9 ms, ms', worst, 'reported', null),
        row('cursor: drawn anew every, ms', Math.round(frame), '≤ 30', frame <= 30),
        ...(await heardRows(browser, url)),
      ],
    };
  } finally {
    await browser.close();
    await rm(folder, { recursive: true, force: true });
  }
};
