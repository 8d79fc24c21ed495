import { runGates, together } from '../gates/runGates.mjs';
import { runTests, sentenceOf } from '../gates/runTests.mjs';
import { ensurePackages } from '../setup/ensureReady.mjs';

/** `npm run quick`: what should hold before each commit, in less than a minute. */
export const run = async () => {
  await ensurePackages();
  const judged = await runGates(['format', 'lint', 'types', 'layers']);
  const count = together(judged, await runTests('unit'));
  console.log(sentenceOf(count));
  return count.failed > 0 ? 1 : 0;
};
