import { mkdir, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { workRoom } from './program.ts';
import { type Answer, ask, type Started, startWorkbench as start } from './workbenchServer.ts';

// The workbench's server as a user starts it: a process of its own, a shelf in a folder, requests over the wire.

const json = ({ text }: Answer) => JSON.parse(text);
const TUNE =
  'X:1\nT:A Kettle for Nell\nR:reel\nM:4/4\nL:1/8\nK:D\nDFAF dAFA|BGdG AFED|DFAF dAFA|BdAF E2D2|\n';

describe('the server', () => {
  let room: Awaited<ReturnType<typeof workRoom>>;
  let shelf = '';
  let server: Started;
  beforeAll(async () => {
    room = await workRoom();
    shelf = join(room.path, 'shelf');
    server = await start(shelf, 4850);
  });
  afterAll(async () => {
    server.child.kill('SIGINT');
    expect(await server.ended).toBe(0);
    expect(server.said()).toContain('Closed.');
    await room.leave();
  });

  test('begins with the demo lessons and names its folder', async () => {
    const answer = json(await server.page('/api/shelf'));
    expect(answer).toMatchObject({ folder: shelf, all: 4, matching: 4 });
    expect(server.said()).toContain(`Your lessons: ${shelf}\n`);
  });

  describe('lets in nobody but the workbench', () => {
    const cookie = () => ({ cookie: `tuneladder-${server.port}=${server.key}` });
    test('the address with the key sets a cookie that scripts and other pages do not get', async () => {
      const { status, headers } = await ask(server.port, `/?key=${server.key}`);
      expect(status).toBe(303);
      expect(headers.location).toBe('/');
      expect(headers['set-cookie']).toEqual([
        `tuneladder-${server.port}=${server.key}; Path=/; HttpOnly; SameSite=Strict`,
      ]);
    });
    test.each([
      ['without the cookie', '/api/shelf', () => ({})],
      ['without the cookie, of the page', '/', () => ({})],
      [
        'with a wrong cookie',
        '/api/shelf',
        () => ({ cookie: `tuneladder-${server.port}=${'0'.repeat(48)}` }),
      ],
      ['with a wrong key', `/?key=${'0'.repeat(48)}`, () => ({})],
      ['with another host', '/api/shelf', () => ({ ...cookie(), host: `tuneladder.example:${server.port}` })],
      ['with another port', '/api/shelf', () => ({ ...cookie(), host: '127.0.0.1:80' })],
      ['out of another page', '/api/shelf', () => ({ ...cookie(), 'sec-fetch-site': 'cross-site' })],
      ["out of another port's page", '/api/shelf', () => ({ ...cookie(), 'sec-fetch-site': 'same-site' })],
    ])('refused: %s', async (_, path, headers) => {
      const { status, text } = await ask(server.port, path, { headers: headers() });
      expect(status).toBe(403);
      expect(text).toMatch(/not/);
    });
    test.each([
      ['of a foreign origin', { origin: 'http://tuneladder.example', 'x-tuneladder': '1' }],
      ['of another port', { origin: 'http://127.0.0.1:1', 'x-tuneladder': '1' }],
      ['of a sandboxed page', { origin: 'null', 'x-tuneladder': '1' }],
      ['without the own header', {}],
    ])('a change is refused: %s', async (_, headers) => {
      const change = { method: 'DELETE', headers: { ...cookie(), ...headers } };
      expect((await ask(server.port, '/api/lessons/seven-thimbles', change)).status).toBe(403);
      expect(await readdir(shelf)).toContain('seven-thimbles');
    });
  });

  test('the page comes with a strict policy and a nonce of its own', async () => {
    const [one, other] = [await server.page('/'), await server.page('/lesson/seven-thimbles')];
    const nonceIn = ({ text }: Answer) => /data-nonce="([^"]+)"/.exec(text)?.[1] ?? '';
    expect(nonceIn(one)).toMatch(/^[A-Za-z0-9+/]{22}==$/);
    expect(nonceIn(one)).not.toBe(nonceIn(other));
    expect(one.headers['content-security-policy']).toContain(`style-src 'self' 'nonce-${nonceIn(one)}'`);
    expect(one.headers).toMatchObject({
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
    });
    expect((await server.page('/thread.js')).headers['content-type']).toContain('text/javascript');
    expect((await server.page('/nothing.js')).status).toBe(404);
  });

  test('no path leaves the shelf', async () => {
    const outside = join(room.path, 'secret.txt');
    await writeFile(outside, 'secret');
    const pack = join(shelf, 'the-ferrymans-wet-coat', 'pack');
    await mkdir(join(pack, 'folder'), { recursive: true });
    await writeFile(join(pack, 'own.txt'), 'mine');
    await symlink(outside, join(pack, 'link.txt'));
    await symlink(room.path, join(pack, 'linked'));
    expect((await server.page('/files/the-ferrymans-wet-coat/pack/own.txt')).text).toBe('mine');
    for (const path of [
      '/files/../secret.txt',
      '/files/..%2f..%2fsecret.txt/pack/x',
      '/files/%2e%2e/pack/secret.txt',
      '/files/the-ferrymans-wet-coat/pack/..%2ftune.abc',
      '/files/the-ferrymans-wet-coat/pack/%2e%2e/tune.abc',
      '/files/the-ferrymans-wet-coat/pack/../tune.abc',
      `/files/the-ferrymans-wet-coat/pack/${encodeURIComponent(outside)}`,
      '/files/the-ferrymans-wet-coat/pack/link.txt',
      '/files/the-ferrymans-wet-coat/pack/linked/secret.txt',
      '/files/the-ferrymans-wet-coat/pack/folder',
      '/files/the-ferrymans-wet-coat/pack/own.txt%00',
      '/files/the-ferrymans-wet-coat/pack/',
      '/files/the-ferrymans-wet-coat/pack/%00',
      '/assets/..%2findex.html',
      '/assets/%2e%2e%2f%2e%2e%2fpackage.json',
      '/api/lessons/..',
      '/api/lessons/%2e%2e%2fshelf',
      '/api/lessons/.key',
      '/api/lessons/seven-thimbles/earlier/..%2f..',
    ]) {
      const { status, text } = await server.page(path);
      expect({ path, status }).toMatchObject({ status: 404 });
      expect(text).not.toContain('secret');
      expect(text).not.toContain('T:');
    }
  });

  test('a folder with any name is a lesson, a file with any name a part of its pack', async () => {
    const [id, name] = ['Nell’s 100% & "é" #1?', 'a % b+c%20d.txt'];
    await mkdir(join(shelf, id, 'pack'), { recursive: true });
    await writeFile(join(shelf, id, 'tune.abc'), TUNE);
    await writeFile(join(shelf, id, 'pack', name), 'mine');
    await writeFile(
      join(shelf, 'words.json'),
      '{"format":"tuneladder-words","version":1,"names":{"cut":"grace note","roll":"turn"}}',
    );
    await writeFile(
      join(shelf, id, 'words.json'),
      '{"format":"tuneladder-words","version":1,"names":{"cut":"flick"}}',
    );
    const address = encodeURIComponent(id);
    let lesson = await server.page(`/api/lessons/${address}`);
    while (lesson.status === 404) lesson = await server.page(`/api/lessons/${address}`);
    expect(json(lesson)).toMatchObject({ id, abc: TUNE, problems: [] });
    expect(JSON.parse(json(lesson).words).names).toEqual({ cut: 'flick', roll: 'turn' });
    expect((await server.page(`/files/${address}/pack/${encodeURIComponent(name)}`)).text).toBe('mine');
    await writeFile(join(shelf, 'words.json'), '{\n  "format": "tuneladder-words",\n  "version": 1,,\n}');
    const mended = json(await server.page(`/api/lessons/${address}`));
    expect(JSON.parse(mended.words).names).toEqual({ cut: 'flick' });
    expect(mended.wordsProblems).toEqual([expect.stringMatching(/^words\.json, line 3: /)]);
    const { mark } = json(await server.page(`/api/lessons/${address}`, { method: 'DELETE' }));
    const back = await server.page(`/api/deleted/${encodeURIComponent(mark)}/back`, { method: 'POST' });
    expect(json(back)).toEqual({ ids: [id] });
    await server.page(`/api/lessons/${address}`, { method: 'DELETE' });
    await rm(join(shelf, 'words.json'));
  });

  test('a pasted tune becomes a lesson, is saved, retitled, copied, deleted and brought back', async () => {
    const tunes = json(await server.page('/api/tunes', { method: 'POST', body: TUNE }));
    expect(tunes.tunes).toEqual([
      {
        from: 0,
        to: TUNE.trimEnd().length,
        title: 'A Kettle for Nell',
        dance: 'reel',
        key: 'D major',
        bars: 4,
        unusable: null,
      },
    ]);
    const post = (path: string, body: unknown = {}, method = 'POST') =>
      server.page(path, { method, body: JSON.stringify(body) });
    const made = json(await post('/api/lessons', { abc: TUNE, tunes: [0], teacher: '' }));
    expect(made).toEqual({ ids: ['a-kettle-for-nell'] });
    const one = json(await server.page('/api/lessons/a-kettle-for-nell'));
    expect(one).toMatchObject({ abc: TUNE, problems: [], words: '' });
    const abc = TUNE.replace('E2D2', 'D4');
    const save = { abc, settings: one.settings, base: one.revision };
    const saved = json(await post('/api/lessons/a-kettle-for-nell', save, 'PUT'));
    expect(saved.kind).toBe('saved');
    expect(await readFile(join(shelf, 'a-kettle-for-nell', 'tune.abc'), 'utf8')).toBe(abc);
    // A second window that still has the state from before.
    const other = { ...save, abc: TUNE.replace('DFAF', 'D2AF') };
    const changed = json(await post('/api/lessons/a-kettle-for-nell', other, 'PUT'));
    expect(changed).toMatchObject({ kind: 'changed', now: { abc }, base: { abc: TUNE } });
    expect(await readFile(join(shelf, 'a-kettle-for-nell', 'tune.abc'), 'utf8')).toBe(abc);
    // The answer was lost and the page asks again.
    expect(json(await post('/api/lessons/a-kettle-for-nell', save, 'PUT'))).toEqual(saved);
    expect(
      (await post('/api/lessons/a-kettle-for-nell/title', { title: 'Nell’s 100% Kettle' }, 'PUT')).status,
    ).toBe(200);
    expect(json(await server.page('/api/shelf?words=kettel')).lessons[0].title).toBe('Nell’s 100% Kettle');
    const copy = json(await post('/api/lessons/a-kettle-for-nell/copy'));
    expect(copy).toEqual({ ids: ['nells-100-kettle-copy'] });
    const { mark } = json(await server.page('/api/lessons/nells-100-kettle-copy', { method: 'DELETE' }));
    expect((await server.page('/api/lessons/nells-100-kettle-copy')).status).toBe(404);
    expect(json(await post(`/api/deleted/${encodeURIComponent(mark)}/back`))).toEqual(copy);
    expect(json(await server.page('/api/lessons/nells-100-kettle-copy')).problems).toEqual([]);
    const { checkpoints } = json(await server.page('/api/lessons/a-kettle-for-nell/earlier'));
    expect(checkpoints).toHaveLength(1);
    const earlier = await server.page(`/api/lessons/a-kettle-for-nell/earlier/${checkpoints[0].mark}`);
    expect(json(earlier).abc).toBe(TUNE);
  });

  /** Listens to the news; gives what was told so far, and stops. */
  const listen = () => {
    const told: { kind: string; id?: string; revision?: string; build?: { kind: string } }[] = [];
    const cookie = { cookie: `tuneladder-${server.port}=${server.key}` };
    const line = request(
      { host: '127.0.0.1', port: server.port, path: '/api/news', headers: cookie },
      (answer) => {
        answer.setEncoding('utf8').on('data', (text: string) => {
          for (const [, data = ''] of text.matchAll(/^data: (\{.*)$/gm)) told.push(JSON.parse(data));
        });
      },
    );
    line.on('error', () => undefined);
    line.end();
    return { told, stop: () => line.destroy() };
  };
  const until = async (holds: () => boolean): Promise<void> => {
    while (!holds()) await new Promise((resolve) => setTimeout(resolve, 25));
  };

  test('a tune book is read while others are answered, and says where each tune stands', async () => {
    const book = `M:2/4\n\n${Array.from({ length: 1500 }, (_, i) => TUNE.replace('X:1', `X:${i + 1}`)).join('\n')}`;
    expect(book.length).toBeGreaterThan(100_000);
    const reading = server.page('/api/tunes', { method: 'POST', body: book });
    let longest = 0;
    let isRead = false;
    void reading.finally(() => {
      isRead = true;
    });
    while (!isRead) {
      const begun = performance.now();
      expect((await server.page('/api/shelf')).status).toBe(200);
      longest = Math.max(longest, performance.now() - begun);
    }
    const whole = await (async () => {
      const begun = performance.now();
      await server.page('/api/tunes', { method: 'POST', body: book });
      return performance.now() - begun;
    })();
    // Read in the answering thread itself, one of these answers would wait for nearly the whole book.
    expect(longest).toBeLessThan(whole * 0.7);
    const { abc, head, tunes } = json(await reading);
    expect([abc.slice(0, head), tunes.length]).toEqual(['M:2/4\n\n', 1500]);
    expect(abc.slice(tunes[41].from, tunes[41].to)).toMatch(/^X:42\nT:A Kettle/);
  });

  test('an edit outside is told', async () => {
    const before = json(await server.page('/api/lessons/seven-thimbles'));
    const { told, stop } = listen();
    await new Promise((resolve) => setTimeout(resolve, 200));
    await writeFile(join(shelf, 'seven-thimbles', 'tune.abc'), `${before.abc}%% from outside\n`);
    await until(() => told.some(({ kind }) => kind === 'lesson'));
    const { revision } = json(await server.page('/api/lessons/seven-thimbles'));
    expect(told).toContainEqual({ kind: 'lesson', id: 'seven-thimbles', revision });
    expect(revision).not.toBe(before.revision);
    const save = { abc: before.abc, settings: `${before.settings}\n`, base: before.revision };
    const answer = await server.page('/api/lessons/seven-thimbles', {
      method: 'PUT',
      body: JSON.stringify(save),
    });
    expect(json(answer)).toMatchObject({ kind: 'changed', base: { abc: before.abc } });
    expect(await readFile(join(shelf, 'seven-thimbles', 'tune.abc'), 'utf8')).toContain('from outside');
    stop();
  });

  test('parts of a pack are built, told, opened, sought in and zipped; a build is stopped', async () => {
    const address = '/api/lessons/the-lantern-at-hollin-quay/pack';
    const files = '/files/the-lantern-at-hollin-quay';
    const partsNow = async () => {
      const { parts } = json(await server.page(address)) as {
        parts: { id: string; state: string; paths: string[] }[];
      };
      return new Map(parts.map((part) => [part.id, part]));
    };
    const states = async () =>
      [...(await partsNow())]
        .filter(([, { state }]) => state !== 'missing')
        .map(([id, { state }]) => `${id} ${state}`);
    expect(await states()).toEqual([]);
    const { told, stop } = listen();
    const build = (parts: readonly string[]) =>
      server.page(address, { method: 'POST', body: JSON.stringify({ parts }) });
    const ended = (kind: string) =>
      until(() => told.some((news) => news.kind === 'build' && news.build?.kind === kind));
    expect((await build(['text/abc', 'text/midi', 'text/description', 'sheet/plain/a4'])).status).toBe(202);
    expect((await build(['text/abc'])).status).toBe(409);
    await ended('done');
    expect((await states()).sort()).toEqual([
      'sheet/plain/a4 current',
      'text/abc current',
      'text/description current',
      'text/midi current',
    ]);
    const [sheet = ''] = (await partsNow()).get('sheet/plain/a4')?.paths ?? [];
    const paper = await server.page(`${files}/pack/${sheet}`);
    expect(paper).toMatchObject({
      status: 200,
      headers: { 'content-type': 'application/pdf', 'accept-ranges': 'bytes' },
    });
    expect(paper.text.slice(0, 5)).toBe('%PDF-');
    const stretch = await server.page(`${files}/pack/${sheet}`, { headers: { range: 'bytes=1-3' } });
    expect(stretch).toMatchObject({ status: 206, text: 'PDF' });
    expect(stretch.headers['content-range']).toMatch(/^bytes 1-3\/\d+$/);
    expect(
      (await server.page(`${files}/pack/${sheet}`, { headers: { range: 'bytes=99999999-' } })).status,
    ).toBe(416);
    const saved = await server.page(`${files}/pack/tune.mid?save=1`);
    expect(saved.headers['content-disposition']).toBe(
      'attachment; filename="tune.mid"; filename*=UTF-8\'\'tune.mid',
    );
    for (const group of ['all', 'public']) {
      const zip = await server.page(`${files}/zip/${group}`);
      expect(zip).toMatchObject({ status: 200, headers: { 'content-type': 'application/zip' } });
      expect(zip.text.slice(0, 2)).toBe('PK');
    }
    expect((await server.page(`${files}/zip/everybody`)).status).toBe(404);
    const letter = json(await server.page('/api/lessons/the-lantern-at-hollin-quay/letter/public'));
    expect(letter.text).toContain('The Lantern at Hollin Quay');
    // An edit makes what was built from it out of date.
    const now = json(await server.page('/api/lessons/the-lantern-at-hollin-quay'));
    const abc = now.abc.replace(/^T:.*$/m, 'T:The Lantern, mended');
    const save = { abc, settings: now.settings, base: now.revision };
    await server.page('/api/lessons/the-lantern-at-hollin-quay', {
      method: 'PUT',
      body: JSON.stringify(save),
    });
    expect((await states()).filter((state) => state.endsWith('current'))).toEqual([]);
    const tracks = [...(await partsNow()).keys()].filter((id) => id.startsWith('track/'));
    expect((await build(tracks)).status).toBe(202);
    await server.page(address, { method: 'DELETE' });
    await ended('stopped');
    expect((await states()).some((state) => state.startsWith('track'))).toBe(false);
    stop();
  });

  test.each([
    ['no JSON', 'PUT', '/api/lessons/seven-thimbles', '{', 400, /no well-formed JSON/],
    ['a missing field', 'PUT', '/api/lessons/seven-thimbles', '{"abc":""}', 400, /settings is wrong/],
    ['an unknown lesson', 'GET', '/api/lessons/nobody', undefined, 404, /not on the shelf/],
    ['an empty file', 'POST', '/api/tunes', '', 400, /empty/],
    ['a file that is too large', 'POST', '/api/tunes', 'X'.repeat(5_000_001), 413, /5 MB/],
    [
      'XML with entities',
      'POST',
      '/api/tunes',
      '<!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/passwd">]><a>&x;</a>',
      400,
      /cannot be read/,
    ],
    [
      'a tune without notes',
      'POST',
      '/api/lessons',
      '{"abc":"X:1\\nT:Nothing\\nK:G\\n","tunes":[0],"teacher":""}',
      400,
      /has no notes/,
    ],
    [
      'a tune that is not there',
      'POST',
      '/api/lessons',
      JSON.stringify({ abc: TUNE, tunes: [3], teacher: '' }),
      400,
      /no tune number 4/,
    ],
    ['an unknown address', 'GET', '/api/nothing', undefined, 404, /nothing at this address/],
  ])('refuses in words: %s', async (_, method, path, body, status, words) => {
    const answer = await server.page(path, { method, ...(body === undefined ? {} : { body }) });
    expect(answer.status).toBe(status);
    expect(json(answer).message).toMatch(words);
  });
});
