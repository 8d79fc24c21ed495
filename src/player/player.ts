import type { PracticeData, PracticeOrnament } from '../lesson/index.ts';
import type { Anchor } from './anchors.ts';
import {
  bodyOf,
  climbSteps,
  firstTimeOf,
  type Known,
  onceOf,
  type PlaySettings,
  roundMakerOf,
  soundsAlike,
} from './knownRounds.ts';
import type { PassBar } from './pass.ts';
import type { FromThread, ToThread } from './thread.ts';

/** Where the sound is. */
export interface Position {
  /** Place in the played order; −1 in a count-in or a slow form. */
  readonly index: number;
  /** Seconds since the bar began, and its length. */
  readonly since: number;
  readonly length: number;
  /** The learner's turn. */
  readonly yours: boolean;
  /** What lies where in the bar, for the version that is shown. */
  readonly anchors: readonly Anchor[];
  /** The tempo that it is played at, in hundredths. */
  readonly percent: number;
}

/** What the player needs of the way to the loudspeaker. */
export interface Speaker {
  readonly rate: number;
  readonly send: (message: ToThread) => void;
  readonly heard: () => number;
}

/** Plays a lesson as the learner has set it. */
export interface Player {
  /** Begins at a place in the played order; null: at the start, or the loop's. */
  readonly play: (settings: PlaySettings, at: number | null) => void;
  readonly stop: () => void;
  /** Takes new settings over: while it plays, at the next bar line. */
  readonly change: (settings: PlaySettings) => void;
  /** Plays an ornament opened out, then in its bar. */
  readonly explain: (settings: PlaySettings, version: string, ornament: PracticeOrnament, at: number) => void;
  /** To be told what the sound thread says. */
  readonly hear: (message: FromThread) => void;
  /** What is heard at this moment; null: nothing plays. */
  readonly position: () => Position | null;
  readonly isPlaying: () => boolean;
}

/** A bar that the sound thread has settled. */
interface Heard {
  readonly frame: number;
  readonly bar: PassBar;
  readonly known: Known;
}

/** Bars that are remembered: the one that is heard, those settled ahead. */
const REMEMBERED = 8;
/** Rounds that are remembered: the one that plays, those that were asked for since. */
const ROUNDS = 6;

/** What the sound thread plays, by what it was told and what it reports. */
const trackerOf = (speaker: Speaker) => {
  const rounds = new Map<number, Known>();
  let nextId = 1;
  let heard: readonly Heard[] = [];
  let ends: number | null = null;
  let playing = false;
  const tell = (kind: 'start' | 'change' | 'then', known: Known): number => {
    const id = nextId;
    nextId += 1;
    rounds.set(id, known);
    for (const old of rounds.keys()) if (old < id - ROUNDS) rounds.delete(old);
    if (kind === 'start') [heard, ends, playing] = [[], null, true];
    speaker.send({ kind, id, round: known.round });
    return id;
  };
  return {
    tell,
    isPlaying: () => playing,
    stop: (): void => {
      playing = false;
      speaker.send({ kind: 'stop' });
    },
    hear: (message: FromThread): void => {
      if (message.kind === 'end') ends = message.frame;
      if (message.kind !== 'bar') return;
      const known = rounds.get(message.id);
      const bar = known?.round.bars[message.place];
      if (known !== undefined && bar !== undefined)
        heard = [...heard.slice(-REMEMBERED), { frame: message.frame, bar, known }];
    },
    position: (): Position | null => {
      if (!playing) return null;
      const frame = speaker.heard();
      if (ends !== null && frame >= ends) playing = false;
      const now = heard.findLast((h) => h.frame <= frame);
      if (!playing || now === undefined) return null;
      const { bar, known } = now;
      return {
        index: bar.index,
        since: (frame - now.frame) / speaker.rate,
        length: bar.end - bar.start,
        yours: bar.yours === true,
        anchors: known.anchors.get(bar.index) ?? [],
        percent: known.percent,
      };
    },
  };
};

/** "Gradually faster" on its way: its steps, the one that plays, and the id of its round. */
interface Climb {
  readonly steps: readonly number[];
  readonly at: number;
  readonly id: number;
}

/** Makes a player. */
export const playerOf = (data: PracticeData, speaker: Speaker): Player => {
  const rounds = roundMakerOf(data);
  const tracker = trackerOf(speaker);
  let current: PlaySettings | null = null;
  let climb: Climb | null = null;

  const setFaders = ({ faders }: PlaySettings): void => {
    for (const group of ['fiddle', 'backing', 'click'] as const)
      speaker.send({ kind: 'fader', group, gain: faders[group] });
  };
  const round = (settings: PlaySettings, percent = settings.percent): Known =>
    rounds.make(settings, percent, null, false);
  /** When a step of the climb begins, the thread is told of the next one. */
  const stepUp = (): void => {
    if (climb === null || current === null) return;
    const percent = climb.steps[climb.at + 1];
    if (percent === undefined) return;
    const id = tracker.tell('then', onceOf(bodyOf(round(current, percent))));
    climb = { ...climb, at: climb.at + 1, id };
  };

  return {
    play: (settings, at) => {
      current = settings;
      setFaders(settings);
      const known = rounds.make(settings, settings.percent, at, settings.countIn);
      const climbs = settings.way === 'climb';
      const id = tracker.tell('start', climbs ? firstTimeOf(known) : known);
      climb = climbs ? { steps: climbSteps(settings.percent, settings.goal), at: 0, id } : null;
    },
    stop: () => {
      climb = null;
      tracker.stop();
    },
    change: (settings) => {
      const before = current;
      current = settings;
      setFaders(settings);
      if (!tracker.isPlaying() || before === null || soundsAlike(before, settings)) return;
      if (settings.way === 'climb') {
        const steps = climbSteps(settings.percent, settings.goal);
        // The step after the one that plays has been told already.
        const goesOn = climb !== null && before.percent === settings.percent && before.goal === settings.goal;
        const at = goesOn && climb !== null ? Math.max(0, climb.at - 1) : 0;
        climb = { steps, at, id: tracker.tell('change', onceOf(bodyOf(round(settings, steps[at])))) };
      } else {
        climb = null;
        tracker.tell('change', bodyOf(round(settings)));
      }
    },
    explain: (settings, version, ornament, at) => {
      const known = rounds.explained(settings, version, ornament, at);
      if (known === null) return;
      [climb, current] = [null, null];
      setFaders(settings);
      tracker.tell('start', known);
    },
    hear: (message) => {
      tracker.hear(message);
      if (message.kind === 'bar' && message.id === climb?.id) stepUp();
    },
    position: tracker.position,
    isPlaying: tracker.isPlaying,
  };
};
