import { spawnSync } from 'node:child_process';
import { cpSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { houseOf, ROOT, SOUND } from './house.ts';

// `npm test` judges a small house: what it counts, and that its last line and exit code tell the truth.

const houses: string[] = [];
afterAll(() => {
  for (const folder of houses) rmSync(folder, { recursive: true, force: true });
});

const WHOLE = "import { expect, test } from 'vitest';\n\ntest('whole', () => expect(1).toBe(1));\n";

const judged = (script: string, files: Readonly<Record<string, string>>) => {
  const folder = houseOf({ ...SOUND, 'test/whole.test.ts': WHOLE, ...files });
  houses.push(folder);
  for (const name of ['bin', 'scripts']) cpSync(join(ROOT, name), join(folder, name), { recursive: true });
  // Without what this very run of vitest tells its children.
  const env = Object.fromEntries(
    Object.entries(process.env).filter(([name]) => !/^(VITEST|TEST$|MODE$)/.test(name)),
  );
  const run = spawnSync(process.execPath, [join(folder, 'scripts', `${script}.mjs`)], {
    cwd: folder,
    encoding: 'utf8',
    env,
  });
  const lines = run.stdout.trimEnd().split('\n');
  return { code: run.status, last: lines.at(-1), lines, said: run.stdout + run.stderr };
};

describe('npm run quick', () => {
  test('counts gates and unit tests', () => {
    const { code, last, lines } = judged('quick', {});
    expect({ code, last }).toEqual({ code: 0, last: '5 passed, 0 failed' });
    for (const gate of ['format', 'lint', 'types', 'layers'])
      expect(lines.filter((line) => new RegExp(`^${gate} +passed +\\d+\\.\\d s$`).test(line))).toHaveLength(
        1,
      );
  });
  test('counts failures, broken files and skipped tests, each shown', () => {
    const { code, last, said } = judged('quick', {
      'src/core/fails.test.ts':
        "import { expect, test } from 'vitest';\n\ntest('a wrong sum', () => expect(2 + 2).toBe(5));\n",
      'src/core/broken.test.ts': "throw new Error('cannot be loaded');\n",
      'src/core/absent.test.ts':
        "import { describe, expect, test } from 'vitest';\n\ndescribe.skip('the corpus', () => {\n  test('one', () => expect(1).toBe(1));\n  test('two', () => expect(1).toBe(1));\n});\n",
      'src/music/index.ts': "export { third } from '../score/index.ts';\n",
      'src/score/index.ts': '/** A third. */\nexport const third = 3;\n',
    });
    expect({ code, last }).toEqual({ code: 1, last: '4 passed, 3 failed, 2 skipped' });
    expect(said).toContain('music-imports: src/music/index.ts → src/score/index.ts');
    expect(said).toContain('expected 4 to be 5');
    expect(said).toContain('cannot be loaded');
    expect(said).toContain('skipped: src/core/absent.test.ts › the corpus (2 tests)');
  });
  test('an error outside every test fails', () => {
    const { code, last } = judged('quick', {
      'src/core/late.test.ts':
        "import { expect, test } from 'vitest';\n\ntest('fine', () => {\n  Promise.reject(new Error('late'));\n  expect(1).toBe(1);\n});\n",
    });
    expect({ code, last }).toEqual({ code: 1, last: '6 passed, 1 failed' });
  });
  test('no tests at all is a failure', () => {
    const { code, last } = judged('quick', { 'src/core/half.test.ts': 'export {};\n' });
    expect({ code, last }).toEqual({ code: 1, last: '4 passed, 1 failed' });
  });
});

test('npm test adds doc comments, unused code and whole-program tests', () => {
  const { code, last, lines } = judged('test', {});
  // The small house has packages in package.json that it doesn't use: its unused gate fails, and is the only one.
  expect({ code, last }).toEqual({ code: 1, last: '7 passed, 1 failed' });
  expect(lines.filter((line) => /^unused +FAILED/.test(line))).toHaveLength(1);
  expect(lines.filter((line) => /^docs +passed/.test(line))).toHaveLength(1);
  expect(lines.filter((line) => /^whole tests +passed/.test(line))).toHaveLength(1);
});
