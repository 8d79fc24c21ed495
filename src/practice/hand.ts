import { learnTempoOf, type PracticeData, percentAt } from '../lesson/index.ts';
import { make, slide, wordButton } from './element.ts';
import { PERCENT, type State } from './state.ts';
import type { Wording } from './words.ts';

/** What is always at hand: tempo, play, what is repeated, and the way to everything else. */
export interface Hand {
  readonly element: HTMLElement;
  readonly show: (state: State, playing: boolean) => void;
  /** Tempo as it is heard now, where that is not the one that was set. */
  readonly showTempo: (percent: number) => void;
  readonly setReady: (ready: boolean) => void;
  /** Whether what is a touch away is open; when it closes, the keyboard comes back here. */
  readonly setOpen: (open: boolean) => void;
}

/** What is done with it, and what it has to know. */
export interface HandEvents {
  readonly nameOfBar: (bar: number) => string;
  readonly onPlay: () => void;
  readonly onTempo: (percent: number) => void;
  readonly onLoopEnd: () => void;
  readonly onStart: () => void;
  readonly onMore: () => void;
}

/** Tempo: a bead on a line, what it is in beats, and the three tempi that a lesson speaks of. */
const tempoRow = (data: PracticeData, words: Wording, onTempo: (percent: number) => void) => {
  const bead = slide(words.tempo, { ...PERCENT, step: 1 }, onTempo);
  const metronome = make('span', { class: 'metronome' });
  const named = [
    ['learn', words.toLearn],
    ['steady', words.steady],
    ['upToSpeed', words.upToSpeed],
  ] as const;
  let heard: readonly string[] = [];
  const steps = named.map(([step, text]) => {
    const percent = (): number =>
      percentAt(data, step === 'learn' ? learnTempoOf(data, heard) : data.tempos[step]);
    return { percent, button: wordButton(text, () => onTempo(percent()), { class: 'word step' }) };
  });
  return {
    element: make(
      'div',
      { class: 'tempo' },
      bead.element,
      make('div', { class: 'steps' }, metronome, ...steps.map((s) => s.button)),
    ),
    show: (percent: number): void => {
      const beats = words.tempoIs(data.beat, (data.tempos.upToSpeed * percent) / 100);
      bead.set(percent, words.percent(percent));
      bead.input.setAttribute('aria-valuetext', `${words.percent(percent)}, ${beats}`);
      metronome.textContent = beats;
      for (const step of steps) step.button.setAttribute('aria-pressed', String(step.percent() === percent));
    },
    hear: (versions: readonly string[]): void => {
      heard = versions;
    },
  };
};

/** Where playing begins, or what is repeated. */
const placeRow = (words: Wording, { nameOfBar, onLoopEnd, onStart }: HandEvents) => {
  const where = make('span', { class: 'where' });
  const letGo = wordButton(words.playOn, onLoopEnd, { class: 'word' });
  const start = wordButton(words.fromTheStart, onStart, { class: 'word' });
  const whereOf = ({ loop, at }: State): string => {
    if (loop !== null) return words.looped(nameOfBar(loop.from), nameOfBar(loop.to));
    return at === null || at === 0 ? words.hint : words.fromHere(nameOfBar(at));
  };
  return {
    element: make('div', { class: 'place', attributes: { 'aria-live': 'polite' } }, where, letGo, start),
    show: (state: State): void => {
      letGo.hidden = state.loop === null;
      start.hidden = state.loop !== null || state.at === null || state.at === 0;
      where.textContent = whereOf(state);
      where.classList.toggle('hint', where.textContent === words.hint);
    },
  };
};

/** Builds it. */
export const handOf = (data: PracticeData, words: Wording, events: HandEvents): Hand => {
  const play = wordButton(words.wait, events.onPlay, { class: 'play', attributes: { id: 'play' } });
  play.disabled = true;
  const more = wordButton(words.more, events.onMore, {
    class: 'word more',
    attributes: { id: 'more', 'aria-expanded': 'false', 'aria-controls': 'panel' },
  });
  const tempo = tempoRow(data, words, events.onTempo);
  const place = placeRow(words, events);
  let ready = false;
  let playing = false;
  const label = (): void => {
    play.textContent = !ready ? words.wait : playing ? words.stop : words.play;
  };
  return {
    element: make(
      'footer',
      { class: 'hand' },
      tempo.element,
      make('div', { class: 'do' }, play, place.element, more),
    ),
    show: (state, on) => {
      playing = on;
      label();
      tempo.hear(state.versions);
      if (!on) tempo.show(state.percent);
      place.show(state);
    },
    showTempo: tempo.show,
    setReady: (is) => {
      ready = is;
      play.disabled = !is;
      label();
    },
    setOpen: (open) => {
      more.setAttribute('aria-expanded', String(open));
      more.textContent = open ? words.less : words.more;
      if (!open) more.focus();
    },
  };
};
