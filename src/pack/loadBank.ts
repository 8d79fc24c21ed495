import { readFile } from 'node:fs/promises';
import { type Bank, readBank } from '../audio/index.ts';

/** The committed samples; both `src/` and `dist/` stand beside it. */
const BANK = new URL('../../assets/bank/', import.meta.url);

let loaded: Promise<Bank> | undefined;

/**
 * The sample bank, read from disk once in each thread.
 * @throws Error when the bank is missing or damaged
 */
export const loadBank = (): Promise<Bank> => {
  loaded ??= Promise.all([
    readFile(new URL('bank.json', BANK), 'utf8'),
    readFile(new URL('bank.pcm', BANK)),
  ]).then(([index, samples]) => readBank(index, samples));
  return loaded;
};
