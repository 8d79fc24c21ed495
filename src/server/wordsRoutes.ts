import { createHash } from 'node:crypto';
import { join } from 'node:path';
import type { Hono } from 'hono';
import { TECHNIQUES, techniqueIndexOf } from '../lesson/index.ts';
import { readWordsFile } from '../lessonfile/index.ts';
import { type TechniquesAnswer, techniquesAnswer, wordsRequest, wordsSaved } from '../protocol/index.ts';
import { writeWhole } from '../store/index.ts';
import { bodyOf } from './body.ts';
import { refuse } from './refuse.ts';
import { WORDS_FILE, wordsTextIn } from './standingWords.ts';
import type { KnownLesson } from './techniqueBook.ts';
import { changedWords, NO_WORDS, ownNamesOf, type Words, wishOfNote } from './wordsWishes.ts';
import type { Workbench } from './workbench.ts';

interface WordsNow {
  readonly words: Words;
  readonly problems: readonly string[];
  readonly revision: string;
}

const wordsNow = async (shelf: string): Promise<WordsNow> => {
  const { text, problems } = await wordsTextIn(shelf);
  const read = text === '' ? NO_WORDS : readWordsFile(text);
  return {
    words: read.kind === 'words' ? read : NO_WORDS,
    problems,
    revision: createHash('sha256').update(text).digest('hex'),
  };
};

const handedOutIn = (lessons: readonly KnownLesson[]): TechniquesAnswer['handedOut'] =>
  lessons.flatMap(({ lesson, looked }) =>
    lesson.packMade === null || looked.changes.length === 0
      ? []
      : [
          {
            id: lesson.id,
            title: lesson.facts.title,
            made: new Date(lesson.packMade).toISOString(),
            changes: [...looked.changes],
          },
        ],
  );

const techniquesIn = (
  lessons: readonly KnownLesson[],
  { standing }: Words,
): TechniquesAnswer['techniques'] => {
  const usual = new Map(techniqueIndexOf([]).map(({ technique, name }) => [technique, name] as const));
  const found = lessons.flatMap(({ lesson, looked }) =>
    looked.techniques.map((one) => ({ ...one, id: lesson.id })),
  );
  return TECHNIQUES.map((technique) => {
    const here = found.filter((one) => one.technique === technique);
    return {
      technique,
      name: here[0]?.name ?? usual.get(technique) ?? technique,
      lessons: here.map(({ id, title, where, bar }) => ({ id, title, where, bar })),
      note: wishOfNote(standing[technique] ?? {}),
    };
  });
};

/** The technique index, and the standing words that are edited there. */
export const addWordsRoutes = (app: Hono, { shelf, techniques }: Workbench): void => {
  app.get('/api/techniques', async (context) => {
    const { words, problems, revision } = await wordsNow(shelf.folder);
    const { lessons, left } = techniques.now();
    return context.json(
      techniquesAnswer.parse({
        techniques: techniquesIn(lessons, words),
        names: ownNamesOf(words.names),
        handedOut: handedOutIn(lessons),
        left,
        problems: [...problems],
        revision,
      }),
    );
  });

  app.put('/api/words', async (context) => {
    const read = await bodyOf(context, wordsRequest);
    if (read.kind === 'refused') return read.answer;
    const { words, problems, revision } = await wordsNow(shelf.folder);
    if (problems.length > 0) return refuse(context, 409, problems.join(' '));
    if (revision !== read.body.base)
      return refuse(
        context,
        409,
        'The standing words were changed elsewhere; they are shown here as they are now.',
      );
    const changed = changedWords(words, read.body);
    if (changed.kind === 'problem') return refuse(context, 400, changed.message);
    await writeWhole(join(shelf.folder, WORDS_FILE), changed.text, WORDS_FILE);
    techniques.forget();
    return context.json(wordsSaved.parse({ revision: (await wordsNow(shelf.folder)).revision }));
  });
};
