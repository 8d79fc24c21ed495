import { spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { houseOf, ROOT, write } from './house.ts';

// What stands between a fresh clone and a running program: Node, packages, build, launcher.

const houses: string[] = [];
const house = (files: Readonly<Record<string, string>>): string => {
  const folder = houseOf(files);
  for (const name of ['bin', 'scripts']) cpSync(join(ROOT, name), join(folder, name), { recursive: true });
  houses.push(folder);
  return folder;
};
afterAll(() => {
  for (const folder of houses) rmSync(folder, { recursive: true, force: true });
});

interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

const node = (folder: string, args: readonly string[], env: NodeJS.ProcessEnv = {}): Ran => {
  const run = spawnSync(process.execPath, args, {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, ...env },
  });
  return { code: run.status, out: run.stdout, err: run.stderr };
};

describe('Node', () => {
  const complaint = (version: string, oldest: 'TO_RUN' | 'TO_CHECK'): string => {
    const file = pathToFileURL(join(ROOT, 'scripts/setup/nodeVersion.mjs')).href;
    const program = `import * as node from '${file}'; console.log(node.nodeComplaint('${version}', node.${oldest}));`;
    return node(ROOT, ['--input-type=module', '-e', program]).out.trim();
  };
  test.each(['14.21.3', '18.20.8', '20.11.1'])('%s is too old, and one sentence says so', (version) => {
    expect(complaint(version, 'TO_RUN')).toBe(
      `Tuneladder needs Node 20.12 or newer, and this is Node ${version}: install a newer one from nodejs.org, ` +
        'then run the same command again.',
    );
  });
  test.each(['18.20.8', '20.18.3', '21.7.3', '22.11.0'])('%s is too old for the checks', (version) => {
    expect(complaint(version, 'TO_CHECK')).toBe(
      `The checks of Tuneladder need Node 20.19 or newer, or from 22.12 on, and this is Node ${version}: install a newer ` +
        'one from nodejs.org, then run the same command again.',
    );
  });
  test.each([
    ['20.12.0', 'TO_RUN'],
    ['21.0.0', 'TO_RUN'],
    ['20.19.0', 'TO_CHECK'],
    ['22.12.0', 'TO_CHECK'],
    ['23.0.0', 'TO_CHECK'],
  ] as const)('%s will do %s', (version, oldest) => expect(complaint(version, oldest)).toBe('null'));
  // A Node that can't parse the file can't print the sentence.
  test.each(['scripts/entry.mjs', 'scripts/setup/nodeVersion.mjs', 'bin/tuneladder.mjs'])(
    '%s keeps to what Node 14.0 understands',
    (name) => {
      const text = readFileSync(join(ROOT, name), 'utf8').replace(/\/\/.*$|\/\*\*[\s\S]*?\*\//gm, '');
      expect(text).not.toMatch(/\?\.|\?\?|\|\|=|&&=|'node:|^\s*await |\.at\(|replaceAll|static \{/m);
    },
  );
});

// Nothing that a command loads before it has installed the packages may need one of them.
describe.each(['start', 'test', 'quick', 'check', 'measure', 'bench', 'build'])(
  'npm run %s without packages',
  (name) => {
    test('that cannot be fetched ends in one sentence that says what to do', () => {
      const folder = house({});
      rmSync(join(folder, 'node_modules'));
      const { code, err } = node(folder, [`scripts/${name}.mjs`], {
        npm_config_cache: join(folder, 'empty-cache'),
        npm_config_registry: 'http://127.0.0.1:9/',
        npm_config_fetch_retries: '0',
      });
      expect(code).toBe(1);
      expect(err.trim().split('\n').at(-1)).toMatch(
        /^The packages could not be fetched from the npm registry \(ECONNREFUSED\): check .*, then run the same command again\.$/,
      );
    });
  },
);

describe('the build', () => {
  let folder = '';
  beforeAll(() => {
    folder = house({ 'src/core/half.ts': 'export const half = (x: number): number => x / 2;\n' });
  });
  const build = (): Ran => node(folder, ['scripts/build.mjs']);
  const dist = (name: string): string => join(folder, 'dist', name);

  test('is made, and not again while nothing changes', () => {
    expect(build()).toMatchObject({
      code: 0,
      out: expect.stringMatching(/^Building: .*\nBuilt in .* s\.\n$/),
    });
    expect(existsSync(dist('core/half.js'))).toBe(true);
    expect(build()).toEqual({ code: 0, out: '', err: '' });
  });
  test('is not made again for a test', () => {
    write(folder, 'src/core/half.test.ts', 'export {};\n');
    expect(build().out).toBe('');
  });
  test('follows the sources, and what has lost its source goes', () => {
    rmSync(join(folder, 'src/core/half.ts'));
    write(folder, 'src/music/third.ts', 'export const third = (x: number): number => x / 3;\n');
    expect(build().code).toBe(0);
    expect(existsSync(dist('music/third.js'))).toBe(true);
    expect(existsSync(dist('core'))).toBe(false);
  });
  test('is repaired when somebody deleted a file of it', () => {
    rmSync(dist('music/third.js'));
    rmSync(dist('.stamp'));
    expect(build().code).toBe(0);
    expect(existsSync(dist('music/third.js'))).toBe(true);
  });
  test('fails with what the compiler says, and stays failed', () => {
    write(folder, 'src/music/wrong.ts', "export const wrong: number = 'x';\n");
    for (let time = 1; time <= 2; time += 1) {
      const { code, err } = build();
      expect(code).toBe(1);
      expect(err).toContain('src/music/wrong.ts(1,14): error TS2322');
    }
    rmSync(join(folder, 'src/music/wrong.ts'));
    expect(build().code).toBe(0);
  });
  test('of two runs at once is made by one of them', async () => {
    write(folder, 'src/music/fifth.ts', 'export const fifth = 7;\n');
    const runs = await Promise.all([1, 2].map(() => started(folder, ['scripts/build.mjs']).ended));
    expect(runs.map((run) => run.code)).toEqual([0, 0]);
    expect(runs.filter((run) => run.out.includes('Built in'))).toHaveLength(1);
    expect(existsSync(join(folder, 'dist.lock'))).toBe(false);
  });
  test('takes over the lock of a run that died', () => {
    const { pid } = spawnSync(process.execPath, ['-e', '']);
    mkdirSync(join(folder, 'dist.lock'));
    writeFileSync(join(folder, 'dist.lock', 'pid'), String(pid));
    write(folder, 'src/music/sixth.ts', 'export const sixth = 9;\n');
    expect(build()).toMatchObject({ code: 0, out: expect.stringMatching(/^Building/) });
    expect(existsSync(join(folder, 'dist.lock'))).toBe(false);
  });
});

/** A program that runs beside the test. */
const started = (folder: string, args: readonly string[]) => {
  const child = spawn(process.execPath, args, { cwd: folder });
  let out = '';
  let err = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    out += text;
  });
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    err += text;
  });
  const ended = new Promise<Ran>((resolve) => child.on('close', (code) => resolve({ code, out, err })));
  const said = async (word: string): Promise<void> => {
    while (!out.includes(word)) await new Promise((resolve) => setTimeout(resolve, 20));
  };
  return { child, ended, said };
};

describe('the launcher, in an installed package', () => {
  const MAIN = `
export const main = async (argv, io) => {
  if (argv[0] === 'throw') throw new Error('strings broke');
  if (argv[0] === 'echo') {
    io.stdout.write(JSON.stringify({ argv, cwd: io.cwd, now: io.now() instanceof Date, tty: io.stderr.isTTY }));
    io.stderr.write('aside');
    return 7;
  }
  if (argv[0] === 'flood') {
    for (let i = 0; i < 100_000; i += 1) io.stdout.write('reel\\n'.repeat(10));
    return 0;
  }
  io.stdout.write('ready');
  const busy = setInterval(() => {}, 1000);
  return new Promise((resolve) => {
    io.signal.addEventListener('abort', () => {
      io.stdout.write('tidying');
      if (argv[0] !== 'tidy') return;
      clearInterval(busy);
      resolve(9);
    });
  });
};
`;
  let folder = '';
  beforeAll(() => {
    folder = house({ 'dist/cli/main.js': MAIN });
    rmSync(join(folder, 'package-lock.json'));
  });

  test('hands over arguments and the world, and its exit code back', () => {
    const { code, out, err } = node(folder, ['bin/tuneladder.mjs', 'echo', 'a b']);
    expect({ code, err }).toEqual({ code: 7, err: 'aside' });
    expect(JSON.parse(out)).toEqual({ argv: ['echo', 'a b'], cwd: folder, now: true, tty: false });
  });
  test('a fault is reported on stderr, exit 3', () => {
    const { code, out, err } = node(folder, ['bin/tuneladder.mjs', 'throw']);
    expect({ code, out }).toEqual({ code: 3, out: '' });
    expect(err).toMatch(/^This is a fault in Tuneladder, please report it: Error: strings broke\n/);
  });
  test('a reader that stops early is no error', () => {
    const command = `"${process.execPath}" bin/tuneladder.mjs flood | head -n 1`;
    const run = spawnSync('bash', ['-c', `set -o pipefail; ${command}`], { cwd: folder, encoding: 'utf8' });
    expect({ code: run.status, out: run.stdout, err: run.stderr }).toEqual({
      code: 0,
      out: 'reel\n',
      err: '',
    });
  });
  test.each(['SIGINT', 'SIGTERM'] as const)('%s asks it to stop', async (signal) => {
    const run = started(folder, ['bin/tuneladder.mjs', 'tidy']);
    await run.said('ready');
    run.child.kill(signal);
    expect(await run.ended).toMatchObject({ code: 9, out: 'readytidying' });
  });
  test('a second Ctrl-C ends it with 130', async () => {
    const run = started(folder, ['bin/tuneladder.mjs', 'stubborn']);
    await run.said('ready');
    run.child.kill('SIGINT');
    await run.said('tidying');
    run.child.kill('SIGINT');
    expect((await run.ended).code).toBe(130);
  });
  test('without a build it says so', () => {
    rmSync(join(folder, 'dist'), { recursive: true });
    expect(node(folder, ['bin/tuneladder.mjs'])).toEqual({
      code: 3,
      out: '',
      err: 'There is no command line in this build: dist/cli/main.js is missing.\n',
    });
  });
});

describe('npm start', () => {
  const MAIN = `export const main = async (argv: string[], io: any): Promise<number> => {
  io.stdout.write(JSON.stringify(argv));
  return argv.includes('7') ? 3 : 0;
};
`;
  let folder = '';
  beforeAll(() => {
    folder = house({ 'src/cli/main.ts': MAIN, 'src/core/half.ts': 'export const half = 0.5;\n' });
  });
  const start = (...args: string[]): Ran =>
    node(folder, ['scripts/start.mjs', ...args], { INIT_CWD: join(folder, 'src') });

  test('builds and opens the workbench', () => {
    const { code, out, err } = start();
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/^Building: [\s\S]*\n\["open"\]$/);
  });
  test('takes a folder from where the user stands, and a port', () => {
    expect(start('--shelf', 'mine', '--port', '5000', '--no-browser').out).toBe(
      JSON.stringify(['open', join(folder, 'src', 'mine'), '--port', '5000', '--no-browser']),
    );
  });
  test('hands on what the workbench ends with', () => {
    expect(start('--port', '7').code).toBe(3);
  });
  test('an unknown option is a sentence', () => {
    expect(start('--loud')).toMatchObject({
      code: 1,
      err: 'Usage: npm start [-- --shelf FOLDER] [--port N] [--no-browser]\n',
    });
  });
});

describe('measuring', () => {
  const TABLE = `import { half } from '../src/core/half.ts';

export const table = async () => ({
  title: 'Halves',
  command: 'npm run measure -- halves',
  rows: [
    { what: 'half of 4', ours: half(4), target: '2', holds: half(4) === 2 },
    { what: 'half of 5', ours: half(5), target: '2', yardstick: 3, holds: half(5) === 2 },
    { what: 'a | b', ours: '—', target: 'reported', holds: null },
  ],
});
`;
  let folder = '';
  beforeAll(() => {
    folder = house({
      'src/core/half.ts': 'export const half = (x: number): number => x / 2;\n',
      'measure/halves.ts': TABLE,
      'measure/absent.ts':
        "export const table = async () => ({ title: 'Corpus', command: 'c', rows: [], skipped: 'no corpus' });\n",
    });
  });
  test('prints aligned tables from the build and counts what holds', () => {
    const { code, out } = node(folder, ['scripts/measure.mjs']);
    expect(code).toBe(0);
    expect(out).toBe(`### Corpus

\`c\`

skipped: no corpus

### Halves

\`npm run measure -- halves\`

| what      | ours |   target | yardstick | holds |
| --------- | ---: | -------: | --------: | ----- |
| half of 4 |    2 |        2 |           | yes   |
| half of 5 |  2.5 |        2 |         3 | NO    |
| a \\| b    |    — | reported |           |       |

Rows: 1 hold, 1 fall short, 1 only reported; tables skipped: 1
`);
  });
  test('one file alone, and an unknown one', () => {
    expect(node(folder, ['scripts/measure.mjs', 'absent']).out).not.toContain('Halves');
    expect(node(folder, ['scripts/measure.mjs', 'thirds'])).toMatchObject({
      code: 1,
      err: 'There is no measure/thirds.ts; there are: absent, halves.\n',
    });
  });
  test('a file that throws is a failure', () => {
    write(folder, 'measure/broken.ts', "export const table = async () => { throw new Error('no bow'); };\n");
    const { code, out, err } = node(folder, ['scripts/measure.mjs', 'broken']);
    expect(code).toBe(1);
    expect(err).toMatch(/^measure\/broken\.ts could not finish: Error: no bow\n/);
    expect(out).toContain('files that could not finish: 1');
  });
});
