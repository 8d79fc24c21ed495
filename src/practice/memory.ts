/** What a page keeps on the learner's own device, and nowhere else. */
export interface Memory {
  readonly read: () => unknown;
  readonly write: (value: unknown) => void;
}

/** A memory that forgets: for browsers that refuse to keep anything. */
const FORGETFUL: Memory = { read: () => null, write: () => undefined };

/** The memory for one lesson. Where storage is refused, the page works without. */
export const memoryFor = (key: string): Memory => {
  const name = `practice ${key}`;
  try {
    const store = globalThis.localStorage;
    store.getItem(name);
    return {
      read: () => {
        try {
          return JSON.parse(store.getItem(name) ?? 'null');
        } catch {
          return null;
        }
      },
      write: (value) => {
        try {
          store.setItem(name, JSON.stringify(value));
        } catch {
          // Full or refused: what was set holds as long as the page is open.
        }
      },
    };
  } catch {
    return FORGETFUL;
  }
};
