import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

const ROOT = new URL('../', import.meta.url);

/** Every text of the project for people: at the root and under docs. */
const texts = [
  ...readdirSync(ROOT).filter((name) => name.endsWith('.md')),
  ...readdirSync(new URL('docs/', ROOT), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.md'))
    .map((name) => `docs/${name}`),
];

/** What a text links to or shows within the project; anchors and addresses on the web left out. */
const linksIn = (text: string): readonly string[] =>
  [...text.matchAll(/\]\(([^)\s#]+)(?:#[^)]*)?\)/g)]
    .map(([, to = '']) => to)
    .filter((to) => !/^[a-z]+:/.test(to));

test('every link and picture of the docs is there', () => {
  const missing = texts.flatMap((name) => {
    const at = new URL(name, ROOT);
    return linksIn(readFileSync(at, 'utf8'))
      .filter((to) => !existsSync(new URL(to, at)))
      .map((to) => `${name}: ${to}`);
  });
  expect(texts.length).toBeGreaterThan(10);
  expect(missing).toEqual([]);
});
