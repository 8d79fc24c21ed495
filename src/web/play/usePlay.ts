import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import {
  learnTempoOf,
  type PracticeData,
  type PracticeKey,
  percentAt,
  SLOWEST_PERCENT,
} from '../../lesson/index.ts';
import { type Player, type PlaySettings, type Position, playerOf } from '../../player/index.ts';
import { barsOf, playedOrder } from '../../score/index.ts';
import type { LessonWork } from '../lesson/useWork.ts';
import type { View } from '../lesson/view.ts';
import { useSound } from './useSound.ts';

/** Playing, as the page sees it. */
export interface Play {
  readonly state: 'coming' | 'ready' | 'none';
  readonly isPlaying: boolean;
  readonly isCountingIn: boolean;
  /** The written bar where playing begins. */
  readonly begins: number;
  /** How often playing has come to its end by itself. */
  readonly ends: number;
  readonly toggle: () => void;
  /** Where the sound is; null: nothing plays. */
  readonly position: () => Position | null;
  /** The written bar of each place in the played order. */
  readonly order: readonly number[];
  /** Plays one bar of a lesson as it would be, twice round; then all is as before. */
  readonly tryOut: (tried: Tried) => void;
}

/** A lesson as it would be, and where to listen. */
export interface Tried {
  readonly data: PracticeData;
  readonly keys: readonly PracticeKey[];
  readonly at: number;
  readonly version: string;
}

/** The slowest and fastest tempo, in hundredths of up to speed. */
export const PERCENT = { least: SLOWEST_PERCENT, most: 120 } as const;

/** The versions that are heard: those chosen that there are, else the simplest. */
export const heardIn = (view: View, versions: readonly { readonly id: string }[]): readonly string[] => {
  const chosen = versions.map((v) => v.id).filter((id) => view.heard.includes(id));
  return chosen.length > 0 ? chosen : versions.slice(0, 1).map((v) => v.id);
};

/** The tempo that the versions that are heard are learnt at, in hundredths of up to speed. */
export const learnPercentOf = (view: View, data: PracticeData): number =>
  percentAt(data, learnTempoOf(data, heardIn(view, data.versions)));

/** The tempo that a view asks for: where it says nothing, the one to learn at. */
export const percentOf = (view: View, data: PracticeData): number =>
  view.percent === 0
    ? learnPercentOf(view, data)
    : Math.min(PERCENT.most, Math.max(PERCENT.least, view.percent));

const orderOf = (data: PracticeData): readonly number[] => {
  const score = data.versions[0]?.score;
  if (score === undefined) return [];
  const at = new Map(barsOf(score).map((bar, i) => [`${bar.part}/${bar.index}`, i]));
  return playedOrder(score).map((bar) => at.get(`${bar.part}/${bar.bar}`) ?? 0);
};

const settingsOf = (view: View, data: PracticeData, order: readonly number[]): PlaySettings => {
  const { chosen, looping } = view;
  const from = chosen === null ? -1 : order.indexOf(chosen.from);
  const to = chosen === null ? -1 : order.indexOf(chosen.to, Math.max(0, from));
  return {
    versions: heardIn(view, data.versions),
    percent: percentOf(view, data),
    goal: 100,
    swing: null,
    countIn: view.countIn,
    way: 'through',
    turnBars: 2,
    loop: looping && from >= 0 ? { from, to: Math.max(from, to) } : null,
    faders: { fiddle: view.fiddle, backing: view.backing, click: view.click },
  };
};

/** How often it is looked at whether something still plays, in milliseconds. Ours. */
const LOOK_EVERY = 150;

interface Sounding {
  readonly isPlaying: boolean;
  readonly setPlaying: (isPlaying: boolean) => void;
  /** The beats before the first bar are being heard. */
  readonly isCountingIn: boolean;
  /** How often playing has come to its own end. */
  readonly ends: number;
}

/** Whether the player sounds, looked at while it does: it ends by itself where nothing is looped. */
const useSounding = (player: { readonly current: Player | null }): Sounding => {
  const [isPlaying, setPlaying] = useState(false);
  const [isCountingIn, setCountingIn] = useState(false);
  const [ends, setEnds] = useState(0);
  useEffect(() => {
    if (!isPlaying) return;
    const look = setInterval(() => {
      setCountingIn(player.current?.position()?.index === -1);
      if (player.current?.isPlaying() !== false) return;
      setPlaying(false);
      setEnds((before) => before + 1);
    }, LOOK_EVERY);
    return () => {
      clearInterval(look);
      setCountingIn(false);
    };
  }, [isPlaying, player]);
  return { isPlaying, setPlaying, isCountingIn, ends };
};

/** Plays the lesson as the view asks; what changes while it plays is taken over at the next bar line. */
export const usePlay = (work: LessonWork | null, view: View): Play => {
  const data = work?.data ?? null;
  const sound = useSound(data?.fiddle ?? null);
  const player = useRef<Player | null>(null);
  /** The lesson's own, while another one is tried. */
  const ownPlayer = useRef<Player | null>(null);
  const { isPlaying, setPlaying, isCountingIn, ends } = useSounding(player);
  const order = useMemo(() => (data === null ? [] : orderOf(data)), [data]);
  const settings = useMemo(() => (data === null ? null : settingsOf(view, data, order)), [view, data, order]);
  const now = useRef(settings);
  now.current = settings;

  // Another lesson: another player on the same sound, which goes on where the one before was.
  useEffect(() => {
    if (sound.kind !== 'there' || data === null || work === null) return;
    const { out, tell } = sound.sound;
    const before = player.current;
    const at = before?.position()?.index ?? null;
    const next = playerOf(data, out);
    player.current = next;
    ownPlayer.current = next;
    tell(next);
    out.send({ kind: 'prepare', keys: work.keys });
    if (at !== null && now.current !== null) next.play({ ...now.current, countIn: false }, Math.max(0, at));
  }, [sound, data, work]);
  useEffect(() => {
    if (settings !== null) player.current?.change(settings);
  }, [settings]);
  const toggle = useCallback(() => {
    const playing = player.current;
    if (playing === null || sound.kind !== 'there' || now.current === null) return;
    if (playing.isPlaying()) {
      playing.stop();
      setPlaying(false);
      return;
    }
    const own = ownPlayer.current ?? playing;
    if (own !== playing) {
      player.current = own;
      sound.sound.tell(own);
    }
    const wanted = now.current;
    const at = view.chosen === null || wanted.loop !== null ? null : order.indexOf(view.chosen.from);
    setPlaying(true);
    void sound.sound.out.wake().then(() => own.play(wanted, at === -1 ? null : at));
  }, [sound, view.chosen, order, setPlaying]);
  const tryOut = useCallback(
    (tried: Tried): void => {
      if (sound.kind !== 'there' || now.current === null) return;
      const { out, tell } = sound.sound;
      const once = playerOf(tried.data, out);
      player.current?.stop();
      player.current = once;
      tell(once);
      out.send({ kind: 'prepare', keys: tried.keys });
      const places = orderOf(tried.data);
      const at = Math.max(0, places.indexOf(tried.at));
      const loop = { from: at, to: at };
      setPlaying(true);
      const wanted = { ...now.current, versions: [tried.version], countIn: false, loop };
      void out.wake().then(() => once.play(wanted, null));
    },
    [sound, setPlaying],
  );
  const position = useCallback(() => player.current?.position() ?? null, []);
  const ready = sound.kind === 'there' && data !== null ? 'ready' : 'coming';
  return {
    state: sound.kind === 'none' ? 'none' : ready,
    ...{ isPlaying, isCountingIn, ends, toggle, position, order, tryOut },
    begins: view.chosen?.from ?? 0,
  };
};
