import './page.css';
import { openSound, playerOf, type SoundOut } from '../player/index.ts';
import { readBankPart, readLesson, threadScript } from './lessonParts.ts';
import { buildPage } from './page.ts';
import { placeInSet } from './placeLink.ts';
import { setHead } from './setHead.ts';
import { wordingFor } from './words.ts';

// The learner's page: the music first, then, without anybody waiting for it, the sound.

const parts = readLesson(placeInSet(location.hash) ?? 0);
const words = wordingFor(parts.data.words);
const host = document.getElementById('page') ?? document.body;
if (parts.set !== undefined) host.append(setHead(parts.set, parts.data, words));
const page = buildPage(parts, host);

/** A page that is opened with "pieces" among its words does without the worklet. */
const wanted = /\bpieces\b/.test(location.hash) ? 'pieces' : 'worklet';

const begin = async (): Promise<void> => {
  let hear: Parameters<typeof openSound>[1] = () => undefined;
  const sound: SoundOut = await openSound({ text: threadScript() }, (message) => hear(message), wanted);
  const player = playerOf(parts.data, sound);
  hear = (message) => {
    if (message.kind === 'prepared') page.setPlayer(player, words.soundWay[sound.way], sound.wake);
    else player.hear(message);
  };
  const { variation, vibrato } = parts.data.fiddle;
  sound.send({
    kind: 'bank',
    bank: readBankPart(),
    rate: sound.rate,
    gain: parts.gain,
    variation: variation ? 1 : null,
    vibrato,
  });
  sound.send({ kind: 'prepare', keys: parts.keys });
};

// Another tune of the set is another page: what was there is left as a whole.
addEventListener('hashchange', () => {
  const place = placeInSet(location.hash);
  if (place !== null && parts.set !== undefined && place !== parts.set.place) location.reload();
});

// The music is seen before the sound is worked on.
requestAnimationFrame(() =>
  setTimeout(() => {
    begin().catch(() => page.setPlayer(null, words.noSound, async () => undefined));
  }),
);
