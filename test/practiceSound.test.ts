import { readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { BROWSER, openBrowser } from '../bench/practiceParts/browser.ts';
import { cursorErrors, fiddleAlone, LISTENER } from '../bench/practiceParts/listening.ts';
import { practicePageOf } from '../bench/practiceParts/practicePage.ts';
import { readBank, smallBankOf } from '../src/audio/index.ts';
import { chordPlanOf } from '../src/harmony/index.ts';
import { DANCES } from '../src/music/index.ts';
import { readAbc } from '../src/notation/index.ts';
import { passOf } from '../src/player/pass.ts';
import { type Round, roundOf } from '../src/player/round.ts';
import { engineOf, type ToThread } from '../src/player/thread.ts';
import { ROOT } from './house.ts';
import { workRoom } from './program.ts';

const TUNE = 'X:1\nT:Kettle\nR:reel\nM:4/4\nL:1/8\nK:D\n|:~D3F A2FA|BAF{g}A d2AF|(3BBB AF E2FE|D2FA d2D2:|\n';
const RATE = 44_100;
const BLOCK = 128;
/** What the page asks of its worker at a time: 0.2 s. */
const PIECE = 8_820;
/** Some seven seconds, in whole blocks and in whole pieces. */
const FRAMES = 32 * PIECE;

let room: Awaited<ReturnType<typeof workRoom>>;
let browser: Browser;
let page: Page;

beforeAll(async () => {
  room = await workRoom();
  if (!BROWSER) return;
  await writeFile(join(room.path, 'practice.html'), await practicePageOf(TUNE));
  browser = await openBrowser();
  page = await browser.newPage({ viewport: { width: 820, height: 1180 } });
  await page.addInitScript(LISTENER + CAPTURE);
  await page.goto(pathToFileURL(join(room.path, 'practice.html')).href);
  await page.waitForFunction(() => document.querySelector<HTMLButtonElement>('#play')?.disabled === false);
});
afterAll(async () => {
  await browser?.close();
  await room.leave();
});

/** The messages that make the thread play a tune, bank and all. */
const messages = (): { readonly bank: Extract<ToThread, { kind: 'bank' }>; readonly round: Round } => {
  const [tune] = readAbc(TUNE).tunes;
  if (tune === undefined) throw new Error('no tune');
  const chords = chordPlanOf(tune.score);
  const pass = passOf(tune.score, {
    dance: DANCES.reel,
    chords,
    beatsPerMinute: 90,
    swing: null,
    band: { players: ['guitar', 'bass'], pattern: 'usual' },
    variation: null,
  });
  const round = roundOf(pass, { from: 0, to: 3, loop: true, startAt: null, turns: null, countIn: true });
  const keys = {
    fiddle: new Set<number>(),
    guitar: new Set<number>(),
    bass: new Set<number>(),
    piano: new Set<number>(),
  };
  for (const { voice, midi } of pass.onward.flatMap((b) => b.notes))
    if (voice !== 'click' && voice !== 'drum') keys[voice].add(midi);
  const assets = (name: string) => readFileSync(join(ROOT, 'assets/bank', name));
  const whole = readBank(assets('bank.json').toString('utf8'), assets('bank.pcm'));
  return {
    bank: { kind: 'bank', bank: smallBankOf(whole, keys), rate: RATE, gain: 1, variation: 1, vibrato: false },
    round,
  };
};

type Told = ReturnType<typeof messages>;

/** Both sides, one after the other, as long as a whole number of pieces. */
const inNode = ({ bank, round }: Told): Float32Array => {
  const engine = engineOf(() => undefined);
  engine.hear(bank);
  engine.hear({ kind: 'start', id: 1, round });
  const both = new Float32Array(2 * FRAMES);
  for (let at = 0; at < FRAMES; at += BLOCK)
    engine.fill(both.subarray(at, at + BLOCK), both.subarray(FRAMES + at, FRAMES + at + BLOCK), at);
  return both;
};

/** What the page's own thread is told, and the ways to capture it: written for the browser. */
const CAPTURE = `
const bytesOf = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
const textOf = (sides) => sides.map((side) => {
  const bytes = new Uint8Array(side.buffer, side.byteOffset, side.byteLength);
  let text = '';
  for (let i = 0; i < bytes.length; i += 0x8000) text += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
  return btoa(text);
});
const tell = (port, { bank, codes, round }) => {
  port.postMessage({ ...bank, bank: { ...bank.bank, codes: bytesOf(codes) } });
  port.postMessage({ kind: 'start', id: 1, round });
};
const address = (thread) => 'data:text/javascript;charset=utf-8,' + encodeURIComponent(thread);
window.capture = {
  worklet: async ({ thread, frames, rate, ...told }) => {
    const context = new OfflineAudioContext(2, frames, rate);
    await context.audioWorklet.addModule(address(thread));
    const node = new AudioWorkletNode(context, 'tune', { numberOfInputs: 0, outputChannelCount: [2] });
    node.connect(context.destination);
    tell(node.port, told);
    await new Promise((heard) => {
      node.port.onmessage = ({ data }) => data.kind === 'prepared' && heard(null);
      node.port.postMessage({ kind: 'prepare', keys: [] });
    });
    const buffer = await context.startRendering();
    return textOf([buffer.getChannelData(0), buffer.getChannelData(1)]);
  },
  pieces: ({ thread, frames, piece, ...told }) => new Promise((done) => {
    const worker = new Worker(address(thread));
    const sides = [new Float32Array(frames), new Float32Array(frames)];
    worker.onmessage = ({ data }) => {
      if (data.kind !== 'sound') return;
      sides[0].set(data.left, data.frame);
      sides[1].set(data.right, data.frame);
      if (data.frame + piece >= frames) done(textOf(sides));
    };
    tell(worker, told);
    for (let at = 0; at < frames; at += piece) worker.postMessage({ kind: 'more', frames: piece });
  }),
};
`;

const inBrowser = async (way: 'worklet' | 'pieces', { bank, round }: Told): Promise<Float32Array> => {
  const thread = JSON.parse(readFileSync(join(ROOT, 'dist/practice.json'), 'utf8')).thread as string;
  const sides = await page.evaluate(
    ({ way, told }) =>
      (
        window as unknown as { capture: Record<string, (told: unknown) => Promise<readonly string[]>> }
      ).capture[way]?.(told),
    {
      way,
      told: {
        thread,
        bank: { ...bank, bank: { index: bank.bank.index } },
        codes: Buffer.from(bank.bank.codes).toString('base64'),
        round,
        frames: FRAMES,
        piece: PIECE,
        rate: RATE,
      },
    },
  );
  const bytes = Buffer.concat((sides ?? []).map((side) => Buffer.from(side, 'base64')));
  return new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
};

const decibels = (x: number): number => 20 * Math.log10(Math.max(x, 1e-12));

describe.skipIf(!BROWSER)('sound in the page', () => {
  // The same bound as for a whole track: browser.test.ts. Measured: no sample differs.
  test.each(['worklet', 'pieces'] as const)(
    'captured from its %s, it is the sound made in Node',
    async (way) => {
      const told = messages();
      const [node, web] = [inNode(told), await inBrowser(way, told)];
      expect(web.length).toBe(node.length);
      let [most, apart] = [0, 0];
      web.forEach((x, i) => {
        most = Math.max(most, Math.abs(x));
        apart = Math.max(apart, Math.abs(x - (node[i] as number)));
      });
      expect(decibels(most)).toBeGreaterThan(-20);
      expect(decibels(apart)).toBeLessThanOrEqual(-120);
    },
  );

  test('the cursor lights each note within 30 ms of its sound', async () => {
    await fiddleAlone(page);
    const errors = await cursorErrors(page, TUNE, 14);
    expect(errors.length).toBeGreaterThanOrEqual(14);
    for (const { id, wanted } of errors) expect(id).toBe(wanted);
    // The middle of them: a machine that is busy with other things draws late now and then.
    expect(errors.map((e) => e.off).toSorted((a, b) => a - b)[Math.floor(errors.length / 2)]).toBeLessThan(
      0.03,
    );
  });
});
