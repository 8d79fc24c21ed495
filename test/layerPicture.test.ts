import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { ROOT } from './house.ts';

const draw = (...args: readonly string[]) => {
  const run = spawnSync(process.execPath, [join(ROOT, 'scripts', 'layerPicture.mjs'), ...args], {
    encoding: 'utf8',
  });
  return { code: run.status, said: run.stderr };
};

const house = mkdtempSync(join(tmpdir(), 'tuneladder-picture-'));
afterAll(() => rmSync(house, { recursive: true, force: true }));

test('the layer picture of ARCHITECTURE.md is that of layers.mjs', () => {
  expect(draw('--check', ROOT)).toEqual({ code: 0, said: '' });
});

test('a picture that is not current is told of, and drawn anew without the arrows that follow from others', () => {
  copyFileSync(join(ROOT, 'ARCHITECTURE.md'), join(house, 'ARCHITECTURE.md'));
  writeFileSync(
    join(house, 'layers.mjs'),
    `export const layers = {
  core: { kind: 'pure', imports: [] },
  score: { kind: 'pure', imports: ['core'] },
  cli: { kind: 'node', imports: ['core', 'score'], packages: ['zod'] },
};
`,
  );
  expect(draw('--check', house)).toMatchObject({
    code: 1,
    said: expect.stringContaining('not that of layers.mjs'),
  });
  expect(draw(house).code).toBe(0);
  expect(draw('--check', house)).toEqual({ code: 0, said: '' });
  const arrows = readFileSync(join(house, 'ARCHITECTURE.md'), 'utf8').match(/^ {2}\w+ --> \w+$/gm);
  expect(arrows).toEqual(['  score --> core', '  cli --> score']);
});
