import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, test } from 'vitest';
import { LIVE_GAIN, readBank, smallBankOf } from '../src/audio/index.ts';
import { DEFAULT_SETTINGS, lessonOf, practiceDataOf, practiceKeysOf } from '../src/lesson/index.ts';
import { readAbc } from '../src/notation/index.ts';
import type { PlaySettings } from '../src/player/index.ts';
import { playerOf } from '../src/player/index.ts';
import { type Engine, engineOf } from '../src/player/thread.ts';
import { firstState } from '../src/practice/state.ts';
import { playSettingsOf, tuneOf } from '../src/practice/tune.ts';
import { wordingFor } from '../src/practice/words.ts';
import { ROOT } from './house.ts';

const RATE = 44_100;
const BLOCK = 128;
/** The page asks where the sound is with every frame that it draws, some sixty a second. */
const BLOCKS_A_FRAME = Math.round(RATE / 60 / BLOCK);
/** All that is worked out once (keys, passes, compiled code) is there after two minutes. */
const WARM = 120;
const TEN_MINUTES = 600;
/** Another version, as somebody who practises would want it. */
const EVERY = 20;
/** What may be more in the end, bytes. Ours: measured −0.3 MB; a record of each bar, kept by mistake, is 1.5 MB. */
const MOST = 400_000;

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** Bytes that are in use when all that can be thrown away has been. */
const inUse = (): number => {
  for (let i = 0; i < 4; i += 1) collect();
  const { heapUsed, external } = process.memoryUsage();
  return heapUsed + external;
};

/** The player and its sound thread in one, as a page has them, without a loudspeaker. */
const pageWithoutSpeaker = () => {
  const abc = readFileSync(join(ROOT, 'demo/lessons/the-lantern-at-hollin-quay/tune.abc'), 'utf8');
  const [read] = readAbc(abc).tunes;
  if (read === undefined) throw new Error('no tune');
  const data = practiceDataOf(lessonOf(read.score, { ...DEFAULT_SETTINGS, date: '2026-01-31' }));
  const keys = {
    fiddle: new Set<number>(),
    guitar: new Set<number>(),
    bass: new Set<number>(),
    piano: new Set<number>(),
  };
  for (const { voice, midi } of practiceKeysOf(data)) keys[voice].add(Math.round(midi));
  const assets = (name: string) => readFileSync(join(ROOT, 'assets/bank', name));
  const bank = smallBankOf(readBank(assets('bank.json').toString('utf8'), assets('bank.pcm')), keys);
  let frame = 0;
  let engine: Engine | null = null;
  const player = playerOf(data, {
    rate: RATE,
    // A message is copied on its way to another thread.
    send: (message) => engine?.hear(structuredClone(message)),
    heard: () => frame,
  });
  engine = engineOf((message) => player.hear(message));
  engine.hear({ kind: 'bank', bank, rate: RATE, gain: LIVE_GAIN, variation: 1, vibrato: false });
  const [left, right] = [new Float32Array(BLOCK), new Float32Array(BLOCK)];
  let loudest = 0;
  const playOn = (seconds: number): number => {
    loudest = 0;
    for (let i = 0; i * BLOCK < seconds * RATE; i += 1) {
      engine?.fill(left, right, frame);
      frame += BLOCK;
      loudest = Math.max(loudest, left[0] ?? 0);
      if (i % BLOCKS_A_FRAME === 0) player.position();
    }
    return loudest;
  };
  const settings = (version: string): PlaySettings =>
    playSettingsOf(
      { ...firstState(data), versions: [version], loop: { from: 1, to: 4 }, at: 1 },
      tuneOf(data, wordingFor('british')),
    );
  return { player, playOn, settings, versions: data.versions.map((v) => v.id) };
};

test('ten minutes of four bars round and round leave no more in memory than two', () => {
  const { player, playOn, settings, versions } = pageWithoutSpeaker();
  const practise = (from: number, to: number): void => {
    for (let at = from; at < to; at += EVERY) {
      player.change(settings(versions[(at / EVERY) % versions.length] ?? ''));
      expect(playOn(EVERY)).toBeGreaterThan(0.01);
    }
  };
  player.play(settings(versions[0] ?? ''), null);
  practise(0, WARM);
  const before = inUse();
  practise(WARM, TEN_MINUTES);
  const more = inUse() - before;
  expect(player.isPlaying()).toBe(true);
  expect(more).toBeLessThan(MOST);
});
