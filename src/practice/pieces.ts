import type { PracticeData } from '../lesson/index.ts';
import { make, wordButton } from './element.ts';
import type { State } from './state.ts';
import type { Wording } from './words.ts';

/** The versions as words in a row, one of which holds. */
export const versionRow = (data: PracticeData, words: Wording, choose: (id: string) => void) => {
  const buttons = data.versions.map((v) => wordButton(v.name, () => choose(v.id), { class: 'version' }));
  return {
    element: make('nav', { class: 'versions', attributes: { 'aria-label': words.version } }, ...buttons),
    show: (state: State): void => {
      for (const [i, v] of data.versions.entries())
        buttons[i]?.setAttribute('aria-pressed', String(state.versions.includes(v.id)));
    },
  };
};

/** One line over the hand: what is in the bar, or what an ornament is. */
export const sayingOf = () => {
  const element = make('div', { class: 'saying', attributes: { role: 'status' } });
  element.hidden = true;
  let said = '';
  const say = (title: string, text: string): void => {
    if (said === title + text) return;
    said = title + text;
    element.hidden = said === '';
    element.replaceChildren(make('b', {}, title), ` ${text}`);
  };
  return {
    element,
    say,
    /** Takes back what was said, where it still stands. */
    unsay: (title: string, text: string): void => {
      if (said === title + text) say('', '');
    },
  };
};
