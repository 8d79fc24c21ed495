import type { PracticeData, PracticeSet } from '../lesson/index.ts';
import { make } from './element.ts';
import { tuneLink } from './placeLink.ts';
import type { Wording } from './words.ts';

/** Over the music in the page of a set: its tunes to go to, which one is here, and how it goes over into the next. */
export const setHead = ({ place, tunes }: PracticeSet, data: PracticeData, words: Wording): HTMLElement => {
  const links = tunes.map(({ title, times }, i) =>
    make(
      'li',
      {},
      make(
        'a',
        { attributes: { href: tuneLink(i), ...(i === place ? { 'aria-current': 'true' } : {}) } },
        title,
      ),
      ` ${times}`,
    ),
  );
  const corner = tunes[place]?.corner ?? [];
  return make(
    'div',
    { class: 'set' },
    make('nav', { attributes: { 'aria-label': words.tunesOfSet } }, make('ol', {}, ...links)),
    make('h2', {}, data.title),
    make('p', { class: 'under' }, [data.summary, data.credit].filter((w) => w !== '').join(' ')),
    ...(corner.length === 0
      ? []
      : [make('details', { class: 'corner' }, make('summary', {}, words.atItsEnd), corner.join(' '))]),
  );
};
