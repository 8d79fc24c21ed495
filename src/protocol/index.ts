export type { CompareAnswer } from './compare.ts';
export { compareAnswer } from './compare.ts';
export type { Checkpoints, LessonTexts, SaveAnswer, SaveRequest, StoredLesson } from './lesson.ts';
export { checkpoints, lessonTexts, saveAnswer, saveRequest, storedLesson } from './lesson.ts';
export type { News } from './news.ts';
export { news, refusal } from './news.ts';
export type { Audience, BuildState, Group, PackAnswer, PackPart } from './pack.ts';
export { AUDIENCES, buildRequest, GROUPS, letterAnswer, packAnswer } from './pack.ts';
export type { CornerAnswer, SetAnswer, SetsAnswer, SetWish } from './set.ts';
export { cornerAnswer, madeSet, newSet, saveSet, setAnswer, setsAnswer } from './set.ts';
export type { DeletedAnswer, LessonCard, NewLessons, ShelfAnswer, TunesAnswer } from './shelf.ts';
export {
  deletedAnswer,
  deletedLesson,
  madeLessons,
  newLessons,
  newTitle,
  shelfAnswer,
  tunesAnswer,
} from './shelf.ts';
export type { OwnNames, StandingWish, TechniquesAnswer, WordsRequest } from './technique.ts';
export { techniquesAnswer, wordsRequest, wordsSaved } from './technique.ts';
