import { ensureReady } from '../setup/ensureReady.mjs';

/** `npm run build`: packages installed, sources built. */
export const run = async () => {
  await ensureReady();
  return 0;
};
