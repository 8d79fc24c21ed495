import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { ROOT } from './house.ts';

interface PackageFile {
  readonly dependencies: Readonly<Record<string, string>>;
  readonly devDependencies: Readonly<Record<string, string>>;
}

const listed = readFileSync(join(ROOT, 'THIRD-PARTY.md'), 'utf8');
const { dependencies, devDependencies } = JSON.parse(
  readFileSync(join(ROOT, 'package.json'), 'utf8'),
) as PackageFile;

describe('THIRD-PARTY.md', () => {
  test.each(Object.entries({ ...dependencies, ...devDependencies }))(
    'lists %s %s with its licence',
    (name, version) => {
      const own = JSON.parse(readFileSync(join(ROOT, 'node_modules', name, 'package.json'), 'utf8')) as {
        license: string;
      };
      expect(listed).toContain(`| \`${name}\` | ${version} | ${own.license} |`);
    },
  );
  test('names nothing that is not installed', () => {
    const names = [...listed.matchAll(/^\| `([^`/]+|@[^`]+)` \| \d/gm)].map((m) => m[1]);
    expect(names.sort()).toEqual(Object.keys({ ...dependencies, ...devDependencies }).sort());
  });
});
