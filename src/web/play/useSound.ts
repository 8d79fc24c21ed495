import { useEffect, useState } from 'react';
import { LIVE_GAIN, smallBankIn } from '../../audio/index.ts';
import type { FiddleManner } from '../../lesson/index.ts';
import { openSound, type Player, type SoundOut } from '../../player/index.ts';
import { server } from '../server.ts';

/** The way to the loudspeaker, with whoever is to hear from the sound thread. */
export interface Sound {
  readonly out: SoundOut;
  /** Who is told what the thread says from now on. */
  readonly tell: (player: Player) => void;
}

/** Whether there is sound: it comes a moment after the music. */
export type SoundState =
  | { readonly kind: 'coming' }
  | { readonly kind: 'there'; readonly sound: Sound }
  | { readonly kind: 'none' };

const opened = async ({ variation, vibrato }: FiddleManner): Promise<Sound> => {
  let player: Player | null = null;
  const bank = smallBankIn(new Uint8Array(await server.bank()));
  return new Promise((resolve, reject) => {
    openSound({ address: '/thread.js' }, (message) => {
      if (message.kind === 'ready')
        resolve({
          out: sound as SoundOut,
          tell: (next) => {
            player = next;
          },
        });
      else player?.hear(message);
    }).then((out) => {
      sound = out;
      out.send({
        kind: 'bank',
        bank,
        rate: out.rate,
        gain: LIVE_GAIN,
        variation: variation ? 1 : null,
        vibrato,
      });
    }, reject);
    let sound: SoundOut | null = null;
  });
};

/** Opens the sound once, when the lesson is there. */
export const useSound = (manner: FiddleManner | null): SoundState => {
  const [state, setState] = useState<SoundState>({ kind: 'coming' });
  const [asked, setAsked] = useState(false);
  useEffect(() => {
    if (manner === null || asked) return;
    setAsked(true);
    opened(manner).then(
      (sound) => setState({ kind: 'there', sound }),
      () => setState({ kind: 'none' }),
    );
  }, [manner, asked]);
  return state;
};
