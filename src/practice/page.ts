import type { PracticeOrnament } from '../lesson/index.ts';
import { type MusicView, musicViewOf, type Player } from '../player/index.ts';
import { make } from './element.ts';
import { handOf } from './hand.ts';
import { type KeyActs, listenToKeys } from './keys.ts';
import type { LessonParts } from './lessonParts.ts';
import { type Memory, memoryFor } from './memory.ts';
import { panelOf } from './panel.ts';
import { sayingOf, versionRow } from './pieces.ts';
import { linkTo, placeIn } from './placeLink.ts';
import { firstState, PERCENT, type State, stateFrom } from './state.ts';
import { ornamentAt, ornamentsShown, playSettingsOf, type ShownOrnament, type Tune, tuneOf } from './tune.ts';
import { type Wording, wordingFor } from './words.ts';

/** The page once it is built. */
export interface PracticePage {
  /** To be given the player when the sound is there; null: there is none. */
  readonly setPlayer: (player: Player | null, way: string, wake: () => Promise<void>) => void;
}

/** What all of the page has at hand. */
interface Desk {
  readonly parts: LessonParts;
  readonly words: Wording;
  readonly tune: Tune;
  readonly memory: Memory;
  /** What stood in the memory when the page was opened is of another date. */
  readonly changed: boolean;
  state: State;
  player: Player | null;
  wake: () => Promise<void>;
}

/** What the link behind the address asks for, over what was there. */
const placed = ({ parts: { data }, tune }: Desk, state: State): State =>
  stateFrom(placeIn(location.hash, data, tune.numbers), state, data, tune.bars.length);

const deskOf = (parts: LessonParts): Desk => {
  const { data } = parts;
  const words = wordingFor(data.words);
  const tune = tuneOf(data, words);
  const memory = memoryFor(data.key);
  const kept = memory.read();
  const changed = typeof kept === 'object' && kept !== null && 'made' in kept && kept.made !== data.date;
  const state = stateFrom(kept, firstState(data), data, tune.bars.length);
  const desk: Desk = {
    parts,
    words,
    tune,
    memory,
    changed,
    state,
    player: null,
    wake: async () => undefined,
  };
  desk.state = placed(desk, state);
  return desk;
};

/** What can be done on the page, whatever it is done with. */
interface Acts {
  readonly change: (next: Partial<State>) => void;
  readonly toggle: () => void;
  /** A bar was touched: its ornament is explained where a note with one was, else playing begins there. */
  readonly touch: (bar: number, note: string | null) => void;
  /** An ornament slowly, then in its place. */
  readonly explain: (shown: ShownOrnament) => void;
  /** The ornaments of a bar, one after the other, each time it is called. */
  readonly nextOrnament: (bar: number) => void;
}

/** A browser that has not begun its sound after so many milliseconds has no loudspeaker to begin it on. Ours. */
const LONG_WAKE = 2_000;

const actsOf = (desk: Desk, saying: Saying, show: () => void): Acts => {
  const { tune, words, parts } = desk;
  const shown = () => ornamentsShown(parts.data, desk.state, tune);
  let explained: PracticeOrnament | null = null;
  const awake = (act: (player: Player) => void): void => {
    const tooLong = setTimeout(() => saying.say('', words.silent), LONG_WAKE);
    desk.wake().then(
      () => {
        clearTimeout(tooLong);
        saying.unsay('', words.silent);
        if (desk.player !== null) act(desk.player);
        show();
      },
      () => saying.say('', words.silent),
    );
  };
  const playFrom = (bar: number | null): void => {
    const settings = playSettingsOf(desk.state, tune);
    const at = bar === null ? null : tune.placeOf(bar, settings.loop?.from ?? 0);
    awake((player) => player.play(settings, at));
  };
  const change = (next: Partial<State>): void => {
    desk.state = { ...desk.state, ...next };
    desk.memory.write({ ...desk.state, made: parts.data.date });
    desk.player?.change(playSettingsOf(desk.state, tune));
    show();
  };
  const explain = ({ version, ornament, bar }: ShownOrnament): void => {
    explained = ornament;
    saying.say(words.slowly(ornament.name, tune.nameOfBar(bar)), ornament.explanation);
    awake((player) =>
      player.explain(playSettingsOf(desk.state, tune), version, ornament, tune.placeOf(bar, 0)),
    );
  };
  return {
    change,
    toggle: () => {
      if (desk.player?.isPlaying() !== true) {
        saying.say('', '');
        return playFrom(desk.state.at);
      }
      desk.player.stop();
      show();
    },
    touch: (bar, note) => {
      const found = ornamentAt(shown(), note);
      if (found !== undefined) return explain(found);
      const { loop } = desk.state;
      saying.say('', '');
      change({ at: bar, ...(loop !== null && bar >= loop.from && bar <= loop.to ? {} : { loop: null }) });
      playFrom(bar);
    },
    explain,
    nextOrnament: (bar) => {
      const here = shown().filter((s) => s.bar === bar);
      const before = here.findIndex(({ ornament }) => ornament === explained);
      const next = here[(before + 1) % here.length];
      if (next === undefined) saying.say('', words.noneIn(tune.nameOfBar(bar)));
      else explain(next);
    },
  };
};

type Saying = ReturnType<typeof sayingOf>;

/** What is in a bar, said over the hand. */
const sayBar = ({ parts, tune }: Desk, saying: Saying, bar: number): void => {
  const at = tune.bars[bar];
  const note = parts.data.notes.find((n) => n.part === at?.part && n.bar === at?.index);
  if (note !== undefined) saying.say(`${note.label}.`, note.sentences.join(' '));
};

/** The link to what is seen now: into the address line, and to where copies go. */
const giveLink = ({ state, tune, words, parts }: Desk, saying: Saying): void => {
  const link = linkTo(state, tune.numbers, parts.set?.place ?? null);
  history.replaceState(null, '', link);
  const said = (copied: boolean): void => saying.say('', copied ? words.linkCopied : words.linkIs(link));
  if (navigator.clipboard === undefined) said(false);
  else
    navigator.clipboard.writeText(location.href).then(
      () => said(true),
      () => said(false),
    );
};

/** A screen that goes dark takes the music away: it stays on while something plays, where the browser lets it. */
const screenKeeper = (): ((playing: boolean) => void) => {
  let lock: Promise<WakeLockSentinel | null> | null = null;
  return (playing) => {
    if (playing) lock ??= navigator.wakeLock?.request('screen').catch(() => null) ?? null;
    else {
      void lock?.then((held) => held?.release());
      lock = null;
    }
  };
};

/** Keeps the screen with the sound, as long as the page is open. */
const followSound = (
  desk: Desk,
  {
    view,
    saying,
    showTempo,
    show,
  }: { view: MusicView; saying: Saying; showTempo: (percent: number) => void; show: () => void },
): void => {
  const keepScreen = screenKeeper();
  let played = false;
  const follow = (): void => {
    const position = desk.player?.position() ?? null;
    const plays = desk.player?.isPlaying() ?? false;
    if (plays || played) view.follow(position);
    if (played !== plays) {
      keepScreen(plays);
      show();
    }
    played = plays;
    if (position === null) return;
    showTempo(position.percent);
    const at = view.cursorAt();
    if (position.yours) saying.say(desk.words.yourTurn, '');
    else if (at !== null && desk.state.barNotes) sayBar(desk, saying, at.bar);
    else if (desk.state.way === 'turns') saying.say('', '');
  };
  const frame = (): void => {
    follow();
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
};

const keyActsOf = (desk: Desk, { toggle, change, nextOrnament }: Acts, letGo: () => void): KeyActs => ({
  toggle,
  letGo,
  ornament: nextOrnament,
  tempo: (by) => {
    const percent = Math.min(PERCENT.most, Math.max(PERCENT.least, desk.state.percent + by));
    change({ percent });
  },
  version: (place) => {
    const id = desk.parts.data.versions[place]?.id;
    if (id !== undefined) change({ versions: [id] });
  },
  repeat: (bar) => change({ loop: { from: bar, to: bar }, at: bar }),
});

/** Goes to the place that the link names, now and whenever another is followed. */
const followLinks = (desk: Desk, view: MusicView, change: Acts['change']): void => {
  const goTo = (): void => {
    if (desk.state.at !== null && desk.state.at > 0) view.scrollTo(desk.state.at);
  };
  addEventListener('hashchange', () => {
    change(placed(desk, desk.state));
    goTo();
  });
  goTo();
};

/** A bar's name with the ornaments in it, for those who do not see their signs. */
const nameAndOrnaments = ({ parts, state, tune, words }: Desk, bar: number): string =>
  words.barWith(
    tune.nameOfBar(bar),
    ornamentsShown(parts.data, state, tune)
      .filter((s) => s.bar === bar)
      .map(({ ornament }) => ornament.name),
  );

/** What lies over the hand keeps clear of it, however high the reader's letters make it. */
const keepClearOf = (hand: HTMLElement, said: HTMLElement): void => {
  const observer = new ResizeObserver(() => {
    document.documentElement.style.setProperty('--hand', `${hand.offsetHeight}px`);
    document.documentElement.style.setProperty('--said', `${said.offsetHeight}px`);
  });
  observer.observe(hand);
  observer.observe(said);
};

/** Builds the page into its place and brings it to life. */
export const buildPage = (parts: LessonParts, host: HTMLElement): PracticePage => {
  const desk = deskOf(parts);
  const { words, tune } = desk;
  const { data, music } = parts;
  const saying = sayingOf();
  const musicHost = make('div', { class: 'music', attributes: { role: 'group', 'aria-label': words.music } });
  const show = (): void => {
    const { state } = desk;
    const playing = desk.player?.isPlaying() ?? false;
    versions.show(state);
    hand.show(state, playing);
    panel.show(state);
    view.show(state);
    document.body.classList.toggle('playing', playing);
    if (playing) return;
    if (state.barNotes) sayBar(desk, saying, view.barInView());
  };
  const acts = actsOf(desk, saying, show);
  const { change } = acts;
  const openPanel = (open: boolean): void => {
    panel.element.hidden = !open;
    hand.setOpen(open);
    document.body.classList.toggle('opened', open);
    if (open) panel.element.focus();
  };
  const view = musicViewOf(
    musicHost,
    { data, music, nameOfBar: (bar) => nameAndOrnaments(desk, bar) },
    { onBar: acts.touch, onDrag: (from, to) => change({ loop: { from, to }, at: from }) },
  );
  const versions = versionRow(data, words, (id) => change({ versions: [id] }));
  const hand = handOf(data, words, {
    nameOfBar: tune.nameOfBar,
    onPlay: acts.toggle,
    onTempo: (percent) => change({ percent }),
    onLoopEnd: () => change({ loop: null }),
    onStart: () => change({ at: null }),
    onMore: () => openPanel(panel.element.hidden),
  });
  const panel = panelOf(
    parts,
    words,
    {
      onChange: change,
      onLink: () => giveLink(desk, saying),
      onClose: () => openPanel(false),
      onOrnament: acts.explain,
    },
    { tune, current: () => desk.state, changed: desk.changed },
  );
  host.append(
    versions.element,
    musicHost,
    make('p', { class: 'care' }, data.care),
    saying.element,
    panel.element,
    hand.element,
  );
  keepClearOf(hand.element, saying.element);
  show();
  listenToKeys(
    keyActsOf(desk, acts, () => {
      saying.say('', '');
      if (panel.element.hidden) change({ loop: null });
      else openPanel(false);
    }),
  );
  followSound(desk, { view, saying, showTempo: hand.showTempo, show });
  followLinks(desk, view, change);
  return {
    setPlayer: (player, way, wake) => {
      [desk.player, desk.wake] = [player, wake];
      hand.setReady(player !== null);
      panel.sayWay(way);
      if (player === null) saying.say('', words.noSound);
      show();
    },
  };
};
