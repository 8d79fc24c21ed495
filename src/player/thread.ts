import {
  type BankVoice,
  type FaderGroup,
  type LiveSound,
  liveSoundOf,
  readSmallBank,
  type SmallBank,
} from '../audio/index.ts';
import { hertz } from '../core/index.ts';
import { type Order, type Report, type Sequencer, sequencerOf } from './sequencer.ts';

/** Name of the worklet's processor. */
export const PROCESSOR = 'tune';

/** A key to be worked out before it is needed. */
export interface Key {
  readonly voice: BankVoice;
  readonly midi: number;
  /** Longest note on it. */
  readonly seconds: number;
}

/** What the page says to the sound thread. */
export type ToThread =
  | Order
  | {
      readonly kind: 'bank';
      readonly bank: SmallBank;
      /** Frames a second. */
      readonly rate: number;
      /** Factor on everything. */
      readonly gain: number;
      /** Seed of the small differences between notes; null: none. */
      readonly variation: number | null;
      /** Vibrato on long notes. */
      readonly vibrato: boolean;
    }
  /** Works keys out before they are needed. */
  | { readonly kind: 'prepare'; readonly keys: readonly Key[] }
  | { readonly kind: 'fader'; readonly group: FaderGroup; readonly gain: number }
  /** To a worker: so many frames, please. A worklet is asked by the audio system. */
  | { readonly kind: 'more'; readonly frames: number };

/** What the sound thread says to the page. */
export type FromThread =
  | Report
  | { readonly kind: 'ready' }
  | { readonly kind: 'prepared' }
  | {
      readonly kind: 'sound';
      readonly frame: number;
      readonly left: Float32Array;
      readonly right: Float32Array;
    };

/** The sound engine on a thread of its own, whichever it is. */
export interface Engine {
  readonly hear: (message: ToThread) => void;
  /**
   * Fills both sides with what comes next.
   * @param frame - the audio system's number of the first frame, which reports are given in
   */
  readonly fill: (left: Float32Array, right: Float32Array, frame: number) => void;
}

/** Makes the engine; it is silent until it has heard of its bank. */
export const engineOf = (say: (message: FromThread) => void): Engine => {
  let playing: { readonly sound: LiveSound; readonly sequencer: Sequencer; readonly rate: number } | null =
    null;
  let offset = 0;
  const told = (report: Report): void => say({ ...report, frame: report.frame + offset });
  const begin = ({ bank, rate, gain, variation, vibrato }: Extract<ToThread, { kind: 'bank' }>): void => {
    const sound = liveSoundOf(readSmallBank(bank), { rate: hertz(rate), gain, variation, vibrato });
    playing = { sound, sequencer: sequencerOf(sound, rate, told), rate };
    say({ kind: 'ready' });
  };
  const prepare = (keys: readonly Key[]): void => {
    if (playing === null) return;
    for (const key of keys) playing.sound.prepare(key.voice, key.midi, Math.ceil(key.seconds * playing.rate));
    say({ kind: 'prepared' });
  };
  return {
    hear: (message) => {
      switch (message.kind) {
        case 'bank':
          return begin(message);
        case 'prepare':
          return prepare(message.keys);
        case 'fader':
          return playing?.sound.setFader(message.group, message.gain);
        case 'more':
          return;
        default:
          return playing?.sequencer.order(message);
      }
    },
    fill: (left, right, frame) => {
      if (playing === null) {
        left.fill(0);
        right.fill(0);
        return;
      }
      offset = frame - playing.sound.frame();
      playing.sequencer.advance();
      playing.sound.render(left, right);
    },
  };
};
