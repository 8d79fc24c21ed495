import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { run, workRoom } from './program.ts';

const LID = 'X:1\nT:The Kettle Lid\nR:reel\nM:4/4\nL:1/8\nK:G\n|:"G"G2B!3!G d2B2|"D7"c2A2 "G"G4:|\n';

let room: Awaited<ReturnType<typeof workRoom>>;
beforeEach(async () => {
  room = await workRoom();
  await writeFile(join(room.path, 'lid.abc'), LID);
  await mkdir(join(room.path, 'lid'));
  await writeFile(join(room.path, 'lid/tune.abc'), LID);
  await writeFile(
    join(room.path, 'lid/lesson.json'),
    '{"format":"tuneladder-lesson","version":1,"story":"Hot."}',
  );
});
afterEach(() => room.leave());

test('a tune is printed in its new key', async () => {
  const ran = await run(['transpose', 'lid.abc', '--to', 'A'], room.path);
  expect(ran.code).toBe(0);
  expect(ran.out).toBe(
    LID.replace('K:G', 'K:A').replace(
      '|:"G"G2B!3!G d2B2|"D7"c2A2 "G"G4:|',
      '|:"A"A2cA e2c2|"E7"d2B2 "A"A4:|',
    ),
  );
  expect(ran.err).toBe('remark: written fingers were left out (1); in this key they are others.\n');
});
test('a lesson goes to a folder of its own, its bars kept', async () => {
  const kept = await run(['keep', 'lid', '--bar', '1', 'G2 B2 d2 B2'], room.path);
  expect(kept.code).toBe(0);
  const ran = await run(['transpose', 'lid', '--to', 'D', '--octave', 'up', '--out', 'lid-in-d'], room.path);
  expect(ran.code).toBe(0);
  expect(ran.out).toBe('lid-in-d: the lesson in D major.\n');
  expect(await readFile(join(room.path, 'lid-in-d/tune.abc'), 'utf8')).toContain('|:"D"d2fd a2f2|');
  const list = await run(['keep', 'lid-in-d'], room.path);
  expect(list.out).toMatch(/^1\. .*bar 1/i);
  expect(await readFile(join(room.path, 'lid-in-d/lesson.json'), 'utf8')).toContain('"D5"');
  const again = await run(['transpose', 'lid', '--to', 'A', '--out', 'lid-in-d'], room.path);
  expect(again).toMatchObject({ code: 1, err: expect.stringContaining('there is something already') });
});
test.each([
  [['transpose', 'lid.abc'], 2, /--to KEY/],
  [['transpose', 'lid.abc', '--to', 'H'], 2, /a key like D, Bb or Ador, not "H"/],
  [['transpose', 'lid.abc', '--to', 'A', '--octave', 'left'], 2, /takes up, down/],
  [['transpose', 'lid.abc', '--to', 'Am'], 1, /does not change its mode/],
  [['transpose', 'lid.abc', '--to', 'G'], 1, /in G major already/],
  [['transpose', 'lid.abc', '--to', 'G#'], 1, /more than seven sharps/],
])('%j', async (argv, code, message) => {
  const ran = await run(argv, room.path);
  expect(ran.code).toBe(code);
  expect(ran.err).toMatch(message);
});
