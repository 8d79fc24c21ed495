import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { WebSocket as Socket } from 'undici';

const PROGRAM = '/usr/bin/firefox-esr';

/** Whether Debian's Firefox is there; where it must be and is not, its tests fail. */
export const FIREFOX = existsSync(PROGRAM) || process.env.REQUIRE_BROWSER === '1';
if (!FIREFOX)
  process.stderr.write(`practice page in Firefox: its checks are skipped, there is no ${PROGRAM}\n`);

/** Firefox waits for a loudspeaker before it begins a sound; this one is its own, for machines that have none. */
const PREFERENCES = 'user_pref("media.cubeb.force_mock_context", true);\n';
/** So long may it take to start, milliseconds. */
const STARTED = 60_000;

/** One page in Firefox, without a window. */
export interface FirefoxPage {
  readonly resize: (size: { readonly width: number; readonly height: number }) => Promise<void>;
  readonly open: (url: string) => Promise<void>;
  /** What an expression is worth in the page; promises are waited for. */
  readonly worthOf: <T>(expression: string) => Promise<T>;
  /** Waits until an expression is true. */
  readonly until: (expression: string) => Promise<void>;
  /** Presses keys one after the other, as a hand would: browsers begin no sound without one. */
  readonly press: (...keys: readonly string[]) => Promise<void>;
  /** Errors that were written to the console since it was last asked. */
  readonly faults: () => readonly string[];
  readonly close: () => Promise<void>;
}

type Fields = Readonly<Record<string, unknown>>;

/** Where the program says that it listens. */
const addressOf = (program: ChildProcess): Promise<string> =>
  new Promise((found, failed) => {
    let said = '';
    program.once('error', failed);
    setTimeout(() => failed(new Error(`Firefox has not started: ${said}`)), STARTED).unref();
    program.stderr?.on('data', (data: Buffer) => {
      said += data.toString();
      const address = /WebDriver BiDi listening on (ws:\S+)/.exec(said)?.[1];
      if (address !== undefined) found(`${address}/session`);
    });
  });

/** Commands and events over one socket. Source: W3C, WebDriver BiDi, working draft, "Transport". */
const channelTo = async (address: string, onEvent: (method: string, params: Fields) => void) => {
  const socket = new Socket(address);
  await new Promise((opened, failed) => {
    socket.addEventListener('open', opened);
    socket.addEventListener('error', failed);
  });
  const waiting = new Map<number, { done: (result: Fields) => void; failed: (error: Error) => void }>();
  socket.addEventListener('message', ({ data }) => {
    const { id, type, method, params, result, message } = JSON.parse(String(data)) as Fields;
    if (type === 'event') return onEvent(String(method), params as Fields);
    const asked = waiting.get(Number(id));
    waiting.delete(Number(id));
    if (type === 'success') asked?.done(result as Fields);
    else asked?.failed(new Error(String(message)));
  });
  let last = 0;
  return (method: string, params: Fields): Promise<Fields> => {
    last += 1;
    const id = last;
    return new Promise((done, failed) => {
      waiting.set(id, { done, failed });
      socket.send(JSON.stringify({ id, method, params }));
    });
  };
};

type Command = Awaited<ReturnType<typeof channelTo>>;

/** What is done with one page. */
const pageOver = (command: Command, context: string): Omit<FirefoxPage, 'faults' | 'close'> => {
  const worthOf = async <T>(expression: string): Promise<T> => {
    const answer = await command('script.evaluate', {
      expression: `(async () => JSON.stringify([await (${expression})]))()`,
      target: { context },
      awaitPromise: true,
    });
    const { value } = (answer.result ?? {}) as { readonly value?: string };
    if (value === undefined) throw new Error(`${expression}: ${JSON.stringify(answer)}`);
    return (JSON.parse(value) as [T])[0];
  };
  return {
    worthOf,
    resize: async (viewport) => {
      await command('browsingContext.setViewport', { context, viewport });
    },
    open: async (url) => {
      // Words behind the same address would not load it anew.
      await command('browsingContext.navigate', { context, url: 'about:blank', wait: 'complete' });
      await command('browsingContext.navigate', { context, url, wait: 'complete' });
    },
    until: async (expression) => {
      const asked = `new Promise((done) => { const look = () => (${expression}) ? done(true) : setTimeout(look, 50); look(); })`;
      await worthOf(asked);
    },
    press: async (...keys) => {
      const actions = keys.flatMap((value) => [
        { type: 'keyDown', value },
        { type: 'keyUp', value },
      ]);
      await command('input.performActions', { context, actions: [{ type: 'key', id: 'keys', actions }] });
    },
  };
};

/** Puts a session with one page over a program that has started. */
const sessionOf = async (program: ChildProcess): Promise<Omit<FirefoxPage, 'close'>> => {
  let faults: string[] = [];
  const command = await channelTo(await addressOf(program), (method, { level, text }) => {
    if (method === 'log.entryAdded' && level === 'error') faults.push(String(text));
  });
  await command('session.new', { capabilities: {} });
  await command('session.subscribe', { events: ['log.entryAdded'] });
  const { contexts } = await command('browsingContext.getTree', {});
  const context = String((contexts as readonly Fields[])[0]?.context);
  return {
    ...pageOver(command, context),
    faults: () => {
      const since = faults;
      faults = [];
      return since;
    },
  };
};

/**
 * Starts Firefox.
 * @param profile - an empty folder for what it keeps
 */
export const openFirefox = async (profile: string): Promise<FirefoxPage> => {
  await writeFile(join(profile, 'user.js'), PREFERENCES);
  const program = spawn(
    PROGRAM,
    ['--headless', '--no-remote', '--profile', profile, '--remote-debugging-port', '0'],
    { stdio: ['ignore', 'ignore', 'pipe'] },
  );
  const ended = new Promise((done) => program.once('exit', done));
  const close = async (): Promise<void> => {
    program.kill();
    await ended;
  };
  try {
    return { ...(await sessionOf(program)), close };
  } catch (error) {
    program.kill();
    throw error;
  }
};
