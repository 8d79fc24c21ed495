import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { ROOT } from './house.ts';

const json = (name: string) => JSON.parse(readFileSync(join(ROOT, name), 'utf8'));
const page = readFileSync(join(ROOT, 'THIRD-PARTY.md'), 'utf8');

/** The table rows under a heading: package, version, licence. */
const rowsUnder = (heading: string): readonly (readonly string[])[] => {
  const section = page.split(/^## /m).find((part) => part.startsWith(`${heading}\n`)) ?? '';
  return [...section.matchAll(/^\| (\S+) \| (\d[^ ]*) \| (.+?) \|/gm)].map((row) => row.slice(1));
};

const own = json('package.json') as Record<'dependencies' | 'devDependencies', Record<string, string>>;

describe('THIRD-PARTY.md', () => {
  test.each([
    { of: 'dependencies', heading: 'Packages that the program runs with' },
    { of: 'devDependencies', heading: 'Packages for building and testing' },
  ] as const)('names all $of of package.json, with version and licence, and no other', ({ of, heading }) => {
    const wanted = Object.entries(own[of]).map(([name, version]) => [
      name,
      version,
      json(`node_modules/${name}/package.json`).license,
    ]);
    expect(rowsUnder(heading)).toEqual(wanted);
  });

  test('names what these bring along', () => {
    const locked = json('package-lock.json').packages as Record<
      string,
      { readonly version: string; readonly dev?: boolean; readonly devOptional?: boolean }
    >;
    const wanted = Object.entries(locked).flatMap(([path, { version, dev, devOptional }]) => {
      const name = path.replace(/^.*node_modules\//, '');
      const told = own.dependencies[name] !== undefined || name.startsWith('@resvg/resvg-js-');
      return path === '' || dev === true || devOptional === true || told ? [] : [[name, version]];
    });
    expect(rowsUnder('What these bring with them').map((row) => row.slice(0, 2))).toEqual(wanted);
  });

  test.each([...page.matchAll(/\]\(([^)]+)\)/g)].map(([, path]) => path ?? ''))('%s is there', (path) => {
    expect(readFileSync(join(ROOT, path)).length).toBeGreaterThan(0);
  });
});
