import { gates } from '../gates/index.mjs';
import { runGates, together } from '../gates/runGates.mjs';
import { runTests, sentenceOf } from '../gates/runTests.mjs';
import { ensurePackages } from '../setup/ensureReady.mjs';

/** `npm run check`: every gate, the unit tests and the whole-program tests. The last line is the sum. */
export const run = async () => {
  await ensurePackages();
  const judged = await runGates(gates.map((gate) => gate.name));
  const units = await runTests('unit');
  const whole = await runTests('whole');
  const count = together(judged, together(units, whole));
  console.log(sentenceOf(count));
  return count.failed > 0 ? 1 : 0;
};
