import { ROOT } from '../setup/places.mjs';
import { gates } from './index.mjs';

/** What gates and tests add up to. */
const NOTHING = { passed: 0, failed: 0, skipped: 0 };

/** Two counts in one. */
export const together = (a, b) => ({
  passed: a.passed + b.passed,
  failed: a.failed + b.failed,
  skipped: a.skipped + b.skipped,
});

/**
 * Runs gates one after the other, a line each with its time, complaints in full below it.
 * @param {string[]} names - which; see `gates`
 * @returns {Promise<{passed: number, failed: number, skipped: number}>}
 */
export const runGates = async (names) => {
  let count = NOTHING;
  for (const { name, run } of gates.filter((gate) => names.includes(gate.name))) {
    const start = performance.now();
    const { complaints, skipped } = await run(ROOT);
    const time = `${((performance.now() - start) / 1000).toFixed(1)} s`.padStart(7);
    const verdict = skipped !== undefined ? 'skipped' : complaints.length > 0 ? 'FAILED' : 'passed';
    console.log(
      `${name.padEnd(12)} ${verdict.padEnd(8)} ${time}${skipped === undefined ? '' : `   ${skipped}`}`,
    );
    for (const complaint of complaints) console.log(complaint.replace(/^/gm, '    '));
    count = together(count, {
      passed: verdict === 'passed' ? 1 : 0,
      failed: verdict === 'FAILED' ? 1 : 0,
      skipped: verdict === 'skipped' ? 1 : 0,
    });
  }
  return count;
};
