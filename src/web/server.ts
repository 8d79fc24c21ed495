import {
  type Checkpoints,
  type CompareAnswer,
  type CornerAnswer,
  checkpoints,
  compareAnswer,
  cornerAnswer,
  type DeletedAnswer,
  deletedAnswer,
  deletedLesson,
  type Group,
  type LessonTexts,
  lessonTexts,
  letterAnswer,
  madeLessons,
  madeSet,
  type NewLessons,
  type News,
  news,
  type PackAnswer,
  packAnswer,
  refusal,
  type SaveAnswer,
  type SaveRequest,
  type SetAnswer,
  type SetsAnswer,
  type SetWish,
  type ShelfAnswer,
  type StoredLesson,
  saveAnswer,
  setAnswer,
  setsAnswer,
  shelfAnswer,
  storedLesson,
  type TechniquesAnswer,
  type TunesAnswer,
  techniquesAnswer,
  tunesAnswer,
  type WordsRequest,
  wordsSaved,
} from '../protocol/index.ts';
import { wording } from './wording/index.ts';

/** The server said no, in words for the user. */
class Refused extends Error {
  override readonly name = 'Refused';
  readonly status: number;
  constructor(message: string, status: number) {
    super(message);
    this.status = status;
  }
}

/** Nobody answers: the program that serves the page is not running. */
export class Away extends Error {
  override readonly name = 'Away';
}

interface Call {
  readonly method?: 'GET' | 'POST' | 'PUT' | 'DELETE';
  readonly json?: unknown;
  readonly bytes?: Uint8Array<ArrayBuffer> | Blob;
  readonly signal?: AbortSignal;
}

const bodyOf = ({ json, bytes }: Call): RequestInit =>
  json !== undefined
    ? { body: JSON.stringify(json), headers: { 'content-type': 'application/json', 'x-tuneladder': '1' } }
    : { body: bytes ?? null, headers: { 'x-tuneladder': '1' } };

const answerOf = async (address: string, call: Call): Promise<unknown> => {
  const { method = 'GET', signal } = call;
  let response: Response;
  try {
    const asked = { method, ...(method === 'GET' ? {} : bodyOf(call)) };
    response = await fetch(address, signal === undefined ? asked : { ...asked, signal });
  } catch (error) {
    if (signal?.aborted === true) throw error;
    throw new Away(wording.away);
  }
  const body: unknown = await response.json().catch(() => null);
  if (response.ok) return body;
  const told = refusal.safeParse(body);
  throw new Refused(told.success ? told.data.message : wording.refused(response.status), response.status);
};

/** What reads an answer: throws where it is another one. */
interface Form<T> {
  readonly parse: (answer: unknown) => T;
}

const ask = async <T>(form: Form<T>, address: string, call: Call = {}): Promise<T> =>
  form.parse(await answerOf(address, call));

const lesson = (id: string, rest = ''): string => `/api/lessons/${encodeURIComponent(id)}${rest}`;

const set = (id: string, rest = ''): string => `/api/sets/${encodeURIComponent(id)}${rest}`;

/** What the page asks the server for; every call throws `Refused` or `Away`. */
export const server = {
  shelf: (words: string, signal: AbortSignal): Promise<ShelfAnswer> =>
    ask(shelfAnswer, `/api/shelf?words=${encodeURIComponent(words)}`, { signal }),
  tunes: (bytes: Uint8Array<ArrayBuffer> | Blob): Promise<TunesAnswer> =>
    ask(tunesAnswer, '/api/tunes', { method: 'POST', bytes }),
  make: (wish: NewLessons): Promise<{ ids: string[] }> =>
    ask(madeLessons, '/api/lessons', { method: 'POST', json: wish }),
  duplicate: (id: string): Promise<{ ids: string[] }> =>
    ask(madeLessons, lesson(id, '/copy'), { method: 'POST' }),
  rename: async (id: string, title: string): Promise<void> => {
    await answerOf(lesson(id, '/title'), { method: 'PUT', json: { title } });
  },
  remove: (id: string): Promise<{ mark: string }> => ask(deletedLesson, lesson(id), { method: 'DELETE' }),
  bringBack: (mark: string): Promise<{ ids: string[] }> =>
    ask(madeLessons, `/api/deleted/${encodeURIComponent(mark)}/back`, { method: 'POST' }),
  deleted: (): Promise<DeletedAnswer> => ask(deletedAnswer, '/api/deleted'),
  throwAway: async (mark: string): Promise<void> => {
    await answerOf(`/api/deleted/${encodeURIComponent(mark)}`, { method: 'DELETE' });
  },
  lesson: (id: string): Promise<StoredLesson> => ask(storedLesson, lesson(id)),
  save: (id: string, request: SaveRequest): Promise<SaveAnswer> =>
    ask(saveAnswer, lesson(id), { method: 'PUT', json: request }),
  earlier: (id: string): Promise<Checkpoints> => ask(checkpoints, lesson(id, '/earlier')),
  earlierTexts: (id: string, mark: string): Promise<LessonTexts> =>
    ask(lessonTexts, lesson(id, `/earlier/${encodeURIComponent(mark)}`)),
  pack: (id: string): Promise<PackAnswer> => ask(packAnswer, lesson(id, '/pack')),
  build: async (id: string, parts: readonly string[]): Promise<void> => {
    await answerOf(lesson(id, '/pack'), { method: 'POST', json: { parts } });
  },
  stopBuild: async (id: string): Promise<void> => {
    await answerOf(lesson(id, '/pack'), { method: 'DELETE' });
  },
  letter: (id: string, group: Group): Promise<{ text: string }> =>
    ask(letterAnswer, lesson(id, `/letter/${group}`)),
  sets: (): Promise<SetsAnswer> => ask(setsAnswer, '/api/sets'),
  makeSet: (wish: SetWish): Promise<{ id: string }> =>
    ask(madeSet, '/api/sets', { method: 'POST', json: { wish } }),
  set: (id: string): Promise<SetAnswer> => ask(setAnswer, set(id)),
  saveSet: (id: string, wish: SetWish, base: string): Promise<SetAnswer> =>
    ask(setAnswer, set(id), { method: 'PUT', json: { wish, base } }),
  removeSet: (id: string): Promise<{ mark: string }> => ask(deletedLesson, set(id), { method: 'DELETE' }),
  corner: (id: string, index: number): Promise<CornerAnswer> =>
    ask(cornerAnswer, set(id, `/corners/${index}`)),
  buildSet: async (id: string): Promise<void> => {
    await answerOf(set(id, '/pack'), { method: 'POST' });
  },
  stopSet: async (id: string): Promise<void> => {
    await answerOf(set(id, '/pack'), { method: 'DELETE' });
  },
  techniques: (): Promise<TechniquesAnswer> => ask(techniquesAnswer, '/api/techniques'),
  saveWords: (request: WordsRequest): Promise<{ revision: string }> =>
    ask(wordsSaved, '/api/words', { method: 'PUT', json: request }),
  compare: (first: string, second: string): Promise<CompareAnswer> =>
    ask(compareAnswer, `/api/compare/${encodeURIComponent(first)}/${encodeURIComponent(second)}`),
  bank: async (): Promise<ArrayBuffer> => {
    const response = await fetch('/bank');
    if (!response.ok) throw new Refused(wording.refused(response.status), response.status);
    return response.arrayBuffer();
  },
};

/** Address of a file of a lesson's pack. */
export const packFile = (id: string, path: string): string =>
  `/files/${encodeURIComponent(id)}/pack/${path.split('/').map(encodeURIComponent).join('/')}`;

/** Address of a corner's sound; it changes with the set's revision. */
export const cornerSound = (id: string, index: number, revision: string): string =>
  `${set(id, `/corners/${index}/sound`)}?${revision}`;

/** Address of a file of a set's pack, and of all of it. */
export const setFile = (id: string, path: string): string =>
  `/files/sets/${encodeURIComponent(id)}/pack/${path.split('/').map(encodeURIComponent).join('/')}`;
/** Address of the zip of a set's pack. */
export const setZip = (id: string): string => `/files/sets/${encodeURIComponent(id)}/zip`;

/** Address of a group's zip, or of the whole pack's. */
export const packZip = (id: string, group: Group | 'all'): string =>
  `/files/${encodeURIComponent(id)}/zip/${group}`;

/** Hears what the server tells of its own accord; begins again by itself when the line breaks. */
export const hearNews = (hear: (told: News) => void, isThere: (there: boolean) => void): void => {
  const line = new EventSource('/api/news');
  line.onopen = () => isThere(true);
  line.onerror = () => isThere(false);
  line.onmessage = ({ data }: MessageEvent<string>) => {
    const told = news.safeParse(JSON.parse(data));
    if (told.success) hear(told.data);
  };
};
