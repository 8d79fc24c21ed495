import type { Shelf } from '../shelf/index.ts';
import type { NewsDesk } from './newsDesk.ts';
import type { Packs } from './packs.ts';
import type { TechniqueBook } from './techniqueBook.ts';

/** What the routes work with. */
export interface Workbench {
  readonly shelf: Shelf;
  readonly packs: Packs;
  readonly techniques: TechniqueBook;
  readonly news: NewsDesk;
  /** The shelf's folder as its owner would name it. */
  readonly shownFolder: string;
  readonly today: () => string;
  /** The folder of the page's files. */
  readonly page: URL;
}
