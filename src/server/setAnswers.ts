import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fullestOf, type Lesson, noteValueName, tempoOf, titlesOf, versionOf } from '../lesson/index.ts';
import { keyName } from '../music/index.ts';
import { inspectPack, setSum } from '../pack/index.ts';
import type { SetAnswer, SetsAnswer } from '../protocol/index.ts';
import { cornerWords, setTrackLength, setTracks, type TuneSet } from '../sets/index.ts';
import { MANIFEST_FILE } from '../store/index.ts';
import { buildIdOfSet } from './packs.ts';
import { type SetInHand, storedSet, wishOf } from './setOnShelf.ts';
import type { Workbench } from './workbench.ts';

const titleOf = ({ shelf }: Workbench, lesson: string): string => {
  const title = shelf.get(lesson)?.facts.title ?? '';
  return title === '' ? lesson : title;
};

/** The set's own title, or those of its tunes. */
const shownTitle = (workbench: Workbench, title: string, lessons: readonly string[]): string =>
  title.trim() === '' ? lessons.map((lesson) => titleOf(workbench, lesson)).join(' · ') : title;

/** All sets as a list shows them. */
export const setsAnswerOf = async (workbench: Workbench): Promise<SetsAnswer> => {
  const { shelf } = workbench;
  const sets: SetsAnswer['sets'] = [];
  for (const id of await shelf.sets.ids()) {
    const read = await storedSet(shelf, id);
    if (read === null) continue;
    const hasPack = existsSync(join(shelf.sets.packOf(id), MANIFEST_FILE));
    if (typeof read === 'string') {
      sets.push({ id, title: id, tunes: [], problem: read, hasPack });
      continue;
    }
    const { lessons, plan } = read.stored;
    const gone = lessons.find((lesson) => shelf.get(lesson) === null);
    sets.push({
      id,
      title: shownTitle(workbench, plan.title, lessons),
      tunes: lessons.map((lesson) => titleOf(workbench, lesson)),
      problem: gone === undefined ? null : `The lesson “${gone}” is not on the shelf any more.`,
      hasPack,
    });
  }
  return { sets };
};

/** Versions that all lessons have, as the first one calls them. */
const commonVersions = ([first, ...others]: readonly Lesson[]): SetAnswer['versions'] =>
  (first?.ladder ?? [])
    .filter(({ id }) => others.every(({ ladder }) => ladder.some((version) => version.id === id)))
    .map(({ id, name }) => ({ id, name }));

/** Seconds of the set up to speed, as its last track plays it. */
const lengthOf = (set: TuneSet): number | null => {
  const track = setTracks(set).find(({ fiddle, step }) => fiddle === 'version' && step === 'upToSpeed');
  return track === undefined ? null : setTrackLength(set, track);
};

const tunesOf = (workbench: Workbench, { stored, lessons, set }: SetInHand): SetAnswer['tunes'] =>
  stored.lessons.map((id, i) => {
    const lesson = lessons[i] ?? null;
    if (lesson === null) return { title: titleOf(workbench, id), about: '', usual: null, corner: [] };
    const { version } = stored.plan;
    const isThere = lesson.ladder.some((v) => v.id === version);
    const { kind } = version === null || !isThere ? fullestOf(lesson) : versionOf(lesson, version);
    return {
      title: titlesOf(lesson)[0] ?? id,
      about: `${lesson.dance.name} in ${keyName(lesson.written.key)}`,
      usual: {
        steady: tempoOf(lesson, 'steady', kind),
        upToSpeed: tempoOf(lesson, 'upToSpeed', kind),
        beat: noteValueName(lesson.dance.beat, lesson.settings.words),
      },
      corner: set === null ? [] : [...cornerWords(set, i)],
    };
  });

/** A set as its page shows it. */
export const setAnswerOf = async (
  workbench: Workbench,
  id: string,
  inHand: SetInHand,
): Promise<SetAnswer> => {
  const { shelf, packs, shownFolder } = workbench;
  const { stored, revision, lessons, set, source, problems } = inHand;
  const pack = await inspectPack(shelf.sets.packOf(id));
  const files = (pack?.manifest.files ?? []).filter(({ path }) => pack?.disk.gone.has(path) !== true);
  const sum = source === null ? null : setSum(source);
  return {
    id,
    revision,
    title: shownTitle(workbench, stored.plan.title, stored.lessons),
    wish: wishOf(stored),
    tunes: tunesOf(workbench, inHand),
    versions: commonVersions(lessons.filter((lesson) => lesson !== null)),
    problems: [...problems],
    seconds: set === null ? null : lengthOf(set),
    build: packs.stateOf(buildIdOfSet(id)),
    files: files.map(({ path, what }) => ({ path, what })),
    isCurrent: files.length > 0 && files.every(({ input }) => input === sum),
    folder: join(shownFolder, 'sets', id),
  };
};
