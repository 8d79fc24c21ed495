import type { Page } from 'playwright-core';
import { DEFAULT_SETTINGS, lessonOf, practiceDataOf } from '../../src/lesson/index.ts';
import { elementIdOf, readAbc } from '../../src/notation/index.ts';
import { anchorsOf } from '../../src/player/anchors.ts';
import { passOf } from '../../src/player/pass.ts';
import { firstState } from '../../src/practice/state.ts';

/** From this on a sample is sound, not the end of a fading one. */
const HEARD = 0.01;

/**
 * Listens in on what a page sends to the loudspeaker, whichever way it is made, and on its cursor. To be put into the page
 * before it loads: `blocks` (frame, loudest sample), `lit` (id of a note, frame that was heard when it lit up).
 */
export const LISTENER = `
const tap = 'registerProcessor("tap", class extends AudioWorkletProcessor { process([[x]]) { let m = 0; for (const v of x ?? []) m = Math.max(m, Math.abs(v)); this.port.postMessage([currentFrame, m]); return true; } })';
window.blocks = []; window.lit = [];
const connect = AudioNode.prototype.connect;
const hubs = new Map();
const hubOn = (context) => {
  const hub = new GainNode(context);
  context.audioWorklet.addModule('data:text/javascript,' + encodeURIComponent(tap)).then(() => {
    const listener = new AudioWorkletNode(context, 'tap', { numberOfOutputs: 0 });
    listener.port.onmessage = ({ data }) => window.blocks.push(data);
    connect.call(hub, listener);
  });
  window.context = context;
  return hub;
};
const Context = AudioContext;
window.AudioContext = class extends Context {
  constructor(...given) {
    super(...given);
    hubs.set(this, hubOn(this));
  }
};
AudioNode.prototype.connect = function (to, ...rest) {
  const hub = to instanceof AudioDestinationNode ? hubs.get(to.context) : undefined;
  if (hub !== undefined) connect.call(this, hub);
  return connect.call(this, to, ...rest);
};
addEventListener('DOMContentLoaded', () => new MutationObserver((changes) => {
  for (const { target } of changes) {
    if (!target.classList.contains('sounding')) continue;
    const stamp = context.getOutputTimestamp();
    const heard = (stamp.contextTime + (performance.now() - stamp.performanceTime) / 1000) * context.sampleRate;
    window.lit.push([target.id, heard]);
  }
}).observe(document, { subtree: true, attributes: true, attributeFilter: ['class'] }));
`;

/** What the listener has noted down. */
interface Noted {
  readonly lit: readonly (readonly [id: string, frame: number])[];
  readonly blocks: readonly (readonly [frame: number, loudest: number])[];
  readonly rate: number;
}

const notedIn = (page: Page): Promise<Noted> =>
  page.evaluate(() => {
    const { lit, blocks, context } = window as unknown as Noted & { readonly context: AudioContext };
    return { lit, blocks, rate: context.sampleRate };
  });

/** The ids of the first version's notes in the order of playing, and when each sounds after the first, as a page opens. */
const expectedNotes = (abc: string): readonly { readonly id: string; readonly at: number }[] => {
  const [tune] = readAbc(abc).tunes;
  if (tune === undefined) throw new Error('no tune');
  const data = practiceDataOf(lessonOf(tune.score, { ...DEFAULT_SETTINGS, date: '2026-01-31' }));
  const [bones] = data.versions;
  if (bones === undefined) throw new Error('no version');
  const { percent } = firstState(data);
  const pass = passOf(bones.score, {
    dance: data.dance,
    chords: data.chords,
    beatsPerMinute: (data.tempos.upToSpeed * percent) / 100,
    swing: null,
    band: data.band,
    variation: 1,
  });
  const anchors = anchorsOf(pass);
  const notes = pass.onward.flatMap((bar) =>
    (anchors.get(bar.index) ?? []).map((a) => ({
      id: elementIdOf(bones.id, a.address),
      at: bar.start + a.at,
    })),
  );
  return notes.map(({ id, at }) => ({ id, at: at - (notes[0]?.at ?? 0) }));
};

/** Leaves the fiddle alone, without a count-in: what is heard is what the cursor shows. */
export const fiddleAlone = async (page: Page): Promise<void> => {
  await page.click('#more');
  await page.getByLabel('Count me in').uncheck();
  for (const name of ['Backing', 'Click']) await page.getByLabel(name, { exact: true }).fill('0');
  await page.click('#more');
};

/** What is known of a note that the cursor lit. */
export interface CursorError {
  readonly id: string;
  /** The note that sounded then. */
  readonly wanted: string | undefined;
  /** Seconds between its sound and its light. */
  readonly off: number;
}

/**
 * Plays a page from its start and tells how far its cursor is from the sound.
 * @param abc - the tune of the page, which has the usual settings
 * @param least - so many notes are waited for
 */
export const cursorErrors = async (
  page: Page,
  abc: string,
  least: number,
): Promise<readonly CursorError[]> => {
  await page.click('#play');
  await page.waitForFunction((n) => (window as unknown as Noted).lit.length >= n, least, { timeout: 60_000 });
  const { lit, blocks, rate } = await notedIn(page);
  await page.click('#play');
  const first = blocks.find(([, loudest]) => loudest > HEARD)?.[0] ?? 0;
  const wanted = expectedNotes(abc);
  return lit.map(([id, heard], i) => ({
    id,
    wanted: wanted[i]?.id,
    off: Math.abs((heard - first) / rate - (wanted[i]?.at ?? Number.POSITIVE_INFINITY)),
  }));
};

/** Milliseconds from a wish until it goes to the loudspeaker. */
export interface Waits {
  /** From "Play" to the first sound. */
  readonly play: number;
  /** From the fiddle's fader pulled down to silence. */
  readonly fader: number;
}

/** How long a page that is open and silent lets its learner wait. */
export const waitsOf = async (page: Page): Promise<Waits> => {
  const nowIn = (act: string): Promise<number> =>
    page.evaluate((act) => {
      const { context } = window as unknown as { readonly context: AudioContext };
      const now = context.currentTime * context.sampleRate;
      if (act === 'play') document.querySelector<HTMLElement>('#play')?.click();
      else {
        const fader = document.querySelector<HTMLInputElement>('#panel input[aria-label="Fiddle"]');
        if (fader === null) throw new Error('no fader');
        fader.value = '0';
        fader.dispatchEvent(new Event('input', { bubbles: true }));
      }
      return now;
    }, act);
  const played = await nowIn('play');
  await page.waitForTimeout(4000);
  const pulled = await nowIn('fader');
  await page.waitForTimeout(3000);
  const { blocks, rate } = await notedIn(page);
  await page.click('#play');
  const first = blocks.find(([frame, loudest]) => frame >= played && loudest > HEARD)?.[0] ?? Number.NaN;
  const last = blocks.findLast(([, loudest]) => loudest > HEARD)?.[0] ?? Number.NaN;
  return { play: (1000 * (first - played)) / rate, fader: (1000 * (last - pulled)) / rate };
};
