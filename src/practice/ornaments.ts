import type { PracticeData } from '../lesson/index.ts';
import { make, wordButton } from './element.ts';
import type { State } from './state.ts';
import { ornamentsShown, type ShownOrnament, type Tune } from './tune.ts';
import type { Wording } from './words.ts';

/** What the list of ornaments needs, and what comes of a touch in it. */
export interface OrnamentList {
  readonly data: PracticeData;
  readonly words: Wording;
  readonly tune: Tune;
  readonly onOrnament: (chosen: ShownOrnament) => void;
}

/** The ornaments that are shown, a row for each kind with the bars that have it: each is heard slowly when it is touched. */
export const ornamentsGroup = ({ data, words, tune, onOrnament }: OrnamentList) => {
  const rows = make('div');
  const nothing = make('p', { class: 'quiet' }, words.noOrnaments);
  let drawnFor = '';
  const button = (shown: ShownOrnament): HTMLElement => {
    const bar = tune.nameOfBar(shown.bar);
    return wordButton(bar, () => onOrnament(shown), {
      class: 'word',
      attributes: { 'aria-label': words.ornamentIn(shown.ornament.name, bar) },
    });
  };
  const draw = (all: readonly ShownOrnament[]): void => {
    const names = [...new Set(all.map(({ ornament }) => ornament.name))];
    nothing.hidden = names.length > 0;
    rows.replaceChildren(
      ...names.map((name) =>
        make(
          'div',
          { class: 'row kind' },
          make('span', { attributes: { 'aria-hidden': 'true' } }, words.ornamentKind(name)),
          ...all.filter(({ ornament }) => ornament.name === name).map(button),
        ),
      ),
    );
  };
  return {
    element: make(
      'section',
      { attributes: { id: 'ornaments' } },
      make('h2', {}, words.ornaments),
      nothing,
      rows,
    ),
    show: (state: State): void => {
      const versions = state.versions.join();
      if (versions === drawnFor) return;
      drawnFor = versions;
      draw(ornamentsShown(data, state, tune));
    },
  };
};
