// Remakes assets/bank/ from the source bank: `node scripts/makeBank.mjs [folder of the unpacked package]`.
// Needs `npm run build` before (the signal room) and, without a folder, the npm registry.
import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { loudnessOf } from '../dist/signal/index.js';
import { steadyTone } from './bank/bowed.mjs';
import { brightnessLine } from './bank/colour.mjs';
import { centsAgainst, hertzOf } from './bank/harmonics.mjs';
import { keyRanges, PLAN } from './bank/plan.mjs';
import { ringingTone } from './bank/plucked.mjs';
import { openSource } from './bank/source.mjs';

const FOLDER = new URL('../assets/bank/', import.meta.url);
/** Samples are stored with this peak. */
const PEAK = 0.95;
/** What of a plucked tone counts for its loudness and pitch, in seconds. */
const PLUCK_HEARD = [0, 0.5];
const PLUCK_PITCHED = [0.08, 0.6];

const toneOf = (instrument, zone, source, brightness) => {
  const { rate, seconds, manner } = instrument;
  const { root } = zone;
  return manner === 'bowed'
    ? steadyTone(source, { root, seconds, brightness })
    : ringingTone(source, { root, seconds, rate });
};

const measured = (samples, rate, root, manner) => {
  const span = manner === 'bowed' ? [0, samples.length] : PLUCK_HEARD.map((s) => Math.round(s * rate));
  const pitched = (manner === 'bowed' ? [0.05, samples.length / rate - 0.05] : PLUCK_PITCHED).map((s) =>
    Math.min(samples.length, Math.round(s * rate)),
  );
  return {
    cents: Number(centsAgainst(samples, rate, hertzOf(root), pitched).toFixed(2)),
    loudness: Number(loudnessOf({ rate, samples: samples.subarray(...span) }).toFixed(2)),
  };
};

/** 16-bit samples at full use of the range. */
const stored = (samples) => {
  const peak = samples.reduce((m, x) => Math.max(m, Math.abs(x)), 0);
  return Int16Array.from(samples, (x) => Math.round((x / peak) * PEAK * 0x7fff));
};

const main = async () => {
  const source = await openSource(process.argv[2]);
  const pieces = [];
  let offset = 0;
  const voices = PLAN.map((instrument) => {
    const raw = instrument.zones.map((z) => ({ ...z, ...source.sampleOf(instrument.preset, z.sample) }));
    const ranges = keyRanges(instrument);
    const brightness = brightnessLine(raw);
    const zones = raw.map((zone, i) => {
      const tone = toneOf(instrument, zone, zone, brightness);
      const pcm = stored(tone.samples);
      const heard = Float32Array.from(pcm, (x) => x / 0x8000);
      const { rate, manner } = instrument;
      const entry = {
        ...ranges[i],
        root: zone.root,
        ...measured(heard, rate, zone.root, manner),
        rate,
        offset,
        length: pcm.length,
        loopStart: tone.loopStart,
        loopEnd: tone.loopEnd,
        decay: Number((tone.decay ?? 0).toFixed(2)),
      };
      offset += pcm.length;
      pieces.push(pcm);
      console.log(instrument.voice, JSON.stringify(entry), `ends alike ${tone.likeness.toFixed(2)}`);
      return entry;
    });
    return { voice: instrument.voice, zones };
  });
  write({ format: 'tuneladder-bank', version: 1, voices }, pieces, source.licence);
};

const write = (index, pieces, licence) => {
  mkdirSync(FOLDER, { recursive: true });
  const bytes = Buffer.alloc(pieces.reduce((n, p) => n + 2 * p.length, 0));
  let at = 0;
  for (const piece of pieces) for (const x of piece) at = bytes.writeInt16LE(x, at);
  const files = {
    'bank.json': `${JSON.stringify(index, null, 1)}\n`,
    'bank.pcm': bytes,
    'LICENSE-FluidR3Mono.md': licence,
  };
  const sums = Object.entries(files).map(
    ([name, content]) => `${createHash('sha256').update(content).digest('hex')}  ${name}\n`,
  );
  for (const [name, content] of Object.entries(files)) writeFileSync(new URL(name, FOLDER), content);
  writeFileSync(new URL('SHA256SUMS', FOLDER), sums.join(''));
  console.log(`${(bytes.length / 1e6).toFixed(2)} MB`);
};

await main();
