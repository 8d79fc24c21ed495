import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { ROOT } from '../setup/places.mjs';
import { runNode } from '../setup/programs.mjs';

/**
 * Runs one project of vitest.config.ts, its output shown, and counts its tests.
 * @param {'unit' | 'whole'} project
 * @returns {Promise<{passed: number, failed: number, skipped: number}>} a file that couldn't run counts as one failure
 */
export const runTests = async (project) => {
  const folder = mkdtempSync(join(tmpdir(), 'tuneladder-tests-'));
  const file = join(folder, 'report.json');
  const start = performance.now();
  try {
    console.log(`${project} tests`);
    const { code } = await runNode(
      [
        join(ROOT, 'node_modules', 'vitest', 'vitest.mjs'),
        'run',
        '--project',
        project,
        '--reporter=default',
        '--reporter=json',
        `--outputFile.json=${file}`,
      ],
      { cwd: ROOT, show: true },
    );
    const report = existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : { testResults: [] };
    const count = countOf(report, code);
    for (const line of skippedLines(report)) console.log(line);
    const time = `${((performance.now() - start) / 1000).toFixed(1)} s`.padStart(7);
    const verdict = count.failed > 0 ? 'FAILED' : 'passed';
    console.log(`${`${project} tests`.padEnd(12)} ${verdict.padEnd(8)} ${time}   ${sentenceOf(count)}`);
    return count;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

/** As the last line of `npm test` says it: "412 passed, 0 failed, 3 skipped". */
export const sentenceOf = ({ passed, failed, skipped }) =>
  `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;

const countOf = (report, code) => {
  const tests = report.testResults.flatMap((file) => file.assertionResults);
  const withStatus = (...wanted) => tests.filter((test) => wanted.includes(test.status)).length;
  // A file that failed without a failed test (it couldn't be loaded, a hook threw) is one failure.
  const brokenFiles = report.testResults.filter(
    (file) => file.status === 'failed' && !file.assertionResults.some((test) => test.status === 'failed'),
  ).length;
  const failed = withStatus('failed') + brokenFiles;
  const passed = withStatus('passed');
  // An error outside any test, or no test at all, leaves only the exit code.
  const unexplained = failed === 0 && (code !== 0 || tests.length === 0) ? 1 : 0;
  return { passed, failed: failed + unexplained, skipped: tests.length - passed - withStatus('failed') };
};

/** One line for every group of tests (or ungrouped test) that didn't run. */
const skippedLines = (report) => {
  const groups = new Map();
  for (const file of report.testResults) {
    for (const test of file.assertionResults) {
      if (test.status === 'passed' || test.status === 'failed') continue;
      const group = `${relative(ROOT, file.name)} › ${test.ancestorTitles[0] ?? test.title}`;
      groups.set(group, (groups.get(group) ?? 0) + 1);
    }
  }
  return [...groups].map(([group, size]) => `skipped: ${group} (${size} ${size === 1 ? 'test' : 'tests'})`);
};
