import { readFileSync } from 'node:fs';
import { readBank } from '../src/audio/index.ts';
import { type HeardTrack, heardTracks } from './listenParts/demoTracks.ts';
import type { MeasureRow, MeasureTable } from './table.ts';

const ROOT = new URL('../', import.meta.url);

const at = (value: number, digits: number): number => Number(value.toFixed(digits));

const rowsOf = (kind: string, tracks: readonly HeardTrack[]): readonly MeasureRow[] => {
  const bars = tracks.flatMap((t) => t.barErrors).sort((a, b) => a - b);
  const bars99 = 1000 * (bars[Math.floor(0.99 * (bars.length - 1))] ?? Infinity);
  const most = (of: (t: HeardTrack) => number | null): number => Math.max(...tracks.map((t) => of(t) ?? 0));
  const row = (what: string, ours: number, digits: number, target: number): MeasureRow => ({
    what: `${kind}: ${what}`,
    ours: at(ours, digits),
    target: target === 0 ? '0' : `≤ ${target}`,
    holds: ours <= target,
  });
  return [
    row(
      `tuning error, most of ${tracks.length} tracks, cents`,
      most((t) => t.tuningError),
      1,
      3,
    ),
    row('tune given: tempo error, most, %', 100 * most((t) => t.tempoError), 2, 1),
    row('tune not given: tempo error, most, %', 100 * most((t) => t.tempoErrorByEar), 2, 3),
    row(
      'tune given: swing error, most',
      most((t) => t.swingError),
      3,
      0.1,
    ),
    row('tune given: bar lines, 99 %, ms', bars99, 0, 80),
    row(
      'tune given: bars told where none is played',
      tracks.reduce((sum, t) => sum + t.barsTooMany, 0),
      0,
      0,
    ),
  ];
};

/** What listening makes of the fiddle tracks of the demo lessons' packs, as MP3. */
export const table = async (): Promise<MeasureTable> => {
  const file = (name: string): Uint8Array => readFileSync(new URL(`assets/bank/${name}`, ROOT));
  const bank = readBank(new TextDecoder().decode(file('bank.json')), file('bank.pcm'));
  const tracks = await heardTracks(ROOT, bank);
  for (const t of tracks)
    console.error(
      `${t.name}: tuning ${at(t.tuningError, 1)}, tempo ${at(100 * t.tempoError, 2)} % (by ear ${at(100 * t.tempoErrorByEar, 2)} %), swing ${t.swingError === null ? 'none' : at(t.swingError, 3)}, bars off by over 80 ms ${t.barErrors.filter((e) => e > 0.08).length} of ${t.barErrors.length}, too many ${t.barsTooMany}`,
    );
  return {
    title: "Listening to the demo lessons' tracks",
    command: 'npm run measure -- listenTracks',
    rows: [
      ...rowsOf(
        'bare',
        tracks.filter((t) => !t.backing),
      ),
      ...rowsOf(
        'with backing',
        tracks.filter((t) => t.backing),
      ),
    ],
  };
};
