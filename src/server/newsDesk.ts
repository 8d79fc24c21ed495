import type { Context } from 'hono';
import { streamSSE } from 'hono/streaming';
import type { News } from '../protocol/index.ts';

/** Tells news to all pages that listen. */
export interface NewsDesk {
  readonly tell: (news: News) => void;
  /** The answer to a page that wants to listen. */
  readonly listen: (context: Context) => Response;
  readonly close: () => void;
}

/** A line is kept open by a word at least so often, in milliseconds. Ours. */
const HEARTBEAT = 15_000;

/** A desk where pages listen for news. */
export const newsDesk = (): NewsDesk => {
  const listeners = new Set<{ readonly tell: (news: News) => void; readonly end: () => void }>();
  return {
    tell: (news) => {
      for (const { tell } of listeners) tell(news);
    },
    listen: (context) =>
      streamSSE(context, async (stream) => {
        const write = (data: string, event?: string): void => {
          void stream.writeSSE(event === undefined ? { data } : { data, event }).catch(() => undefined);
        };
        await new Promise<void>((end) => {
          const listener = { tell: (news: News) => write(JSON.stringify(news)), end };
          const heartbeat = setInterval(() => write('', 'heartbeat'), HEARTBEAT).unref();
          listeners.add(listener);
          stream.onAbort(() => {
            listeners.delete(listener);
            clearInterval(heartbeat);
            end();
          });
          write('', 'heartbeat');
        });
      }),
    close: () => {
      for (const { end } of listeners) end();
      listeners.clear();
    },
  };
};
