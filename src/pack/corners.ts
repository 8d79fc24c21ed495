import { seconds } from '../core/index.ts';
import { engraveSnippet, loadEngraver } from '../engrave/index.ts';
import { DEFAULT_SETTINGS } from '../lesson/index.ts';
import { encodeWav } from '../media/index.ts';
import { type Timeline, timelineOfSet } from '../perform/index.ts';
import { barsOf } from '../score/index.ts';
import { cornerScoreOf, performanceOfSetTrack, setTracks, type TuneSet } from '../sets/index.ts';
import { reusedSilence } from '../signal/index.ts';
import { loadBank } from './loadBank.ts';
import { renderPlayed } from './renderTrack.ts';

/** Height of the pictures' staves, in points. Ours: as large as music on the screen. */
const STAFF = 26;
/** Bars that are heard before the corner and behind it. Ours: enough to be in the dance. */
const HEARD = { before: 3, after: 3 } as const;

/**
 * The bar that leads out of a tune, and the first full bar of the next one, as two small pictures.
 * @returns SVG; none behind the last tune
 */
export const cornerPictures = async (set: TuneSet, index: number): Promise<readonly string[]> => {
  const [tune, next] = [set.tunes[index], set.tunes[index + 1]];
  const score = tune === undefined ? null : cornerScoreOf(tune);
  if (score === null || next === undefined) return [];
  const engraver = await loadEngraver();
  const first = barsOf(next.version.score).findIndex(({ bar }) => bar.number !== null);
  const draw = (id: string, of: typeof score, at: number): string =>
    engraveSnippet([{ id, name: '', score: of }], { from: at, to: at + 1, staff: STAFF }, engraver).svg;
  return [draw(`corner${index}`, score, 0), draw(`after${index}`, next.version.score, Math.max(0, first))];
};

/** What sounds from one moment to another, from 0. */
const excerptOf = (timeline: Timeline, from: number, to: number): Timeline => ({
  notes: timeline.notes
    .filter(({ start }) => start >= from && start < to)
    .map((note) => ({
      ...note,
      start: seconds(note.start - from),
      length: seconds(Math.min(note.length, to - note.start)),
    })),
  bars: [],
  beats: [],
  tempo: [],
  length: seconds(to - from),
});

/**
 * How a corner sounds: some bars before it and behind it, steady, with backing.
 * @returns WAV; null behind the last tune
 */
export const cornerSound = async (set: TuneSet, index: number): Promise<Uint8Array | null> => {
  const track = setTracks(set).find(
    ({ fiddle, step, backing }) => fiddle === 'version' && step === 'steady' && backing,
  );
  const two = track === undefined ? [] : performanceOfSetTrack(set, track).slice(index, index + 2);
  if (two.length < 2) return null;
  const timeline = timelineOfSet(two.map((tune) => ({ ...tune, settings: { ...tune.settings, times: 1 } })));
  const behind = timeline.bars.findIndex((bar) => bar.tune === 1);
  const from = timeline.bars[Math.max(0, behind - HEARD.before)]?.start ?? 0;
  const to = timeline.bars[Math.min(timeline.bars.length - 1, behind + HEARD.after)]?.end ?? timeline.length;
  const played = renderPlayed(excerptOf(timeline, from, to), DEFAULT_SETTINGS.fiddle, {
    bank: await loadBank(),
    silence: reusedSilence(),
  });
  return encodeWav(played, {
    title: set.title,
    artist: '',
    album: '',
    track: { number: 1, outOf: 1 },
    date: set.settings.date,
    comment: '',
  });
};
