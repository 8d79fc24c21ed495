import { type Bank, type BankVoice, smallBankOf } from '../audio/index.ts';
import { loadBank } from '../pack/index.ts';

/** Every key that there is. */
const ALL_KEYS: ReadonlySet<number> = new Set(Array.from({ length: 128 }, (_, key) => key));

const VOICES: readonly BankVoice[] = ['fiddle', 'guitar', 'bass', 'piano'];

const bytesOf = (bank: Bank): Uint8Array<ArrayBuffer> => {
  const keys = Object.fromEntries(VOICES.map((voice) => [voice, ALL_KEYS]));
  const { index, codes } = smallBankOf(bank, keys as Record<BankVoice, ReadonlySet<number>>);
  const text = new TextEncoder().encode(JSON.stringify(index));
  const bytes = new Uint8Array(4 + text.length + codes.length);
  new DataView(bytes.buffer).setUint32(0, text.length);
  bytes.set(text, 4);
  bytes.set(codes, 4 + text.length);
  return bytes;
};

let made: Promise<Uint8Array<ArrayBuffer>> | undefined;

/**
 * All samples for a page: the length of the index in four bytes, the index as JSON, the codes; made once.
 * @throws Error when the samples are missing or damaged
 */
export const bankBytes = (): Promise<Uint8Array<ArrayBuffer>> => {
  made ??= loadBank().then(bytesOf);
  return made;
};
