import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { randomFrom } from '../src/core/index.ts';
import { workRoom } from './program.ts';
import { type Answer, startWorkbench as start } from './workbenchServer.ts';

// A hundred saves, the server killed at any moment: nothing that was answered is lost.

const json = ({ text }: Answer) => JSON.parse(text);
const TUNE =
  'X:1\nT:A Kettle for Nell\nR:reel\nM:4/4\nL:1/8\nK:D\nDFAF dAFA|BGdG AFED|DFAF dAFA|BdAF E2D2|\n';

const both = (n: number) => ({
  abc: `${TUNE}%% ${n}\n`,
  settings: `{ "format": "tuneladder-lesson", "version": 1, "teacher": "Teacher ${n}" }\n`,
});
/** The number that both files bear; an error where they are not of one state. */
const numberOn = async (folder: string): Promise<number> => {
  const abc = /^%% (\d+)$/m.exec(await readFile(join(folder, 'tune.abc'), 'utf8'))?.[1];
  const settings = /Teacher (\d+)/.exec(await readFile(join(folder, 'lesson.json'), 'utf8'))?.[1];
  expect(abc).toBe(settings);
  return Number(abc);
};

test('a hundred saves with the server killed again and again lose nothing that was answered', async () => {
  const room = await workRoom();
  const folder = join(room.path, 'shelf', 'kettle');
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, 'tune.abc'), both(0).abc);
  await writeFile(join(folder, 'lesson.json'), both(0).settings);
  const random = randomFrom(7);
  let server = await start(join(room.path, 'shelf'), 4860);
  let { revision: base } = json(await server.page('/api/lessons/kettle'));
  let kills = 0;
  for (let n = 1; n <= 100; n += 1) {
    const body = JSON.stringify({ ...both(n), base });
    const killed = random.next() < 0.12;
    const asked = server.page('/api/lessons/kettle', { method: 'PUT', body }).catch(() => null);
    if (killed) setTimeout(() => server.child.kill('SIGKILL'), random.next() * 30);
    let answer = await asked;
    if (killed) {
      kills += 1;
      await server.ended;
      if (answer !== null) expect(json(answer).kind).toBe('saved');
      const { key, port } = server;
      server = await start(join(room.path, 'shelf'), 4860);
      // The page that is open goes on: same address, same cookie.
      expect({ key: server.key, port: server.port }).toEqual({ key, port });
      const now = json(await server.page('/api/lessons/kettle'));
      const there = await numberOn(folder);
      expect(there).toBe(Number(/%% (\d+)/.exec(now.abc)?.[1]));
      expect(answer === null ? [n - 1, n] : [n]).toContain(there);
      answer = await server.page('/api/lessons/kettle', { method: 'PUT', body });
    }
    const saved = json(answer ?? { status: 0, headers: {}, text: '{}' });
    expect(saved.kind).toBe('saved');
    base = saved.revision;
    expect(await numberOn(folder)).toBe(n);
  }
  expect(kills).toBeGreaterThan(5);
  server.child.kill('SIGKILL');
  await server.ended;
  await room.leave();
});
