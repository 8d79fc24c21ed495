export type { LessonTexts } from './lessonTexts.ts';
export type { ListedLesson, Shelf, ShelfNews, ShelfOptions } from './openShelf.ts';
export { openShelf } from './openShelf.ts';
export type { LessonNow, Saved } from './saveLesson.ts';
export type { SetShelf } from './setsOnShelf.ts';
