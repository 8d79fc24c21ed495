import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ROOT } from './house.ts';

test('the picture in ARCHITECTURE.md is that of layers.mjs', () => {
  const copy = mkdtempSync(join(tmpdir(), 'tuneladder-picture-'));
  try {
    mkdirSync(join(copy, 'scripts'));
    for (const name of ['ARCHITECTURE.md', 'layers.mjs', 'scripts/layerPicture.mjs'])
      cpSync(join(ROOT, name), join(copy, name));
    execFileSync(process.execPath, [join(copy, 'scripts/layerPicture.mjs')]);
    const drawn = readFileSync(join(copy, 'ARCHITECTURE.md'), 'utf8');
    expect(drawn).toContain('versions --> harmony');
    expect(readFileSync(join(ROOT, 'ARCHITECTURE.md'), 'utf8')).toBe(drawn);
  } finally {
    rmSync(copy, { recursive: true, force: true });
  }
});
