import { describe, expect, test } from 'vitest';
import { DEFAULT_SETTINGS, type LessonSettings, lessonOf, timelineOfTrack } from '../lesson/index.ts';
import { readAbc } from '../notation/index.ts';
import { type PackJob, packJobs } from './jobs.ts';
import type { Manifest, ManifestFile } from './manifest.ts';
import { inputsOf } from './partInput.ts';
import { partsOf } from './parts.ts';
import { type JobRoom, roomOf, runJob } from './runJob.ts';
import { type PackSource, sourceOf, tuneOf } from './source.ts';

const TUNE = `X:1
T:The Tin Thimble
R:reel
M:4/4
L:1/8
K:G
|:D2|~G3B d2Bd|efge dBAB|G2{a}GB dBAB|(3BBB AF G2:|
`;
const USUAL: LessonSettings = { ...DEFAULT_SETTINGS, date: '2026-01-31', papers: ['A4'], times: 1 };

const packOf = (changes: Partial<LessonSettings> = {}, text = TUNE, undated = false) => {
  const [tune] = readAbc(text).tunes;
  if (tune === undefined) throw new Error('no tune');
  const settings = { ...USUAL, ...changes };
  const source: PackSource = { ...sourceOf(text, tune, settings, 'default'), undated };
  return { source, lesson: lessonOf(tuneOf(source).score, settings) };
};

/** The manifest of a pack in which everything was made. */
const madeOf = ({ lesson, source }: ReturnType<typeof packOf>): Manifest => {
  const jobs = packJobs(lesson, source.tracks);
  const inputs = inputsOf(jobs, lesson, source);
  const files = jobs.flatMap(({ id, what, paths }) =>
    paths.map(
      (path): ManifestFile => ({
        ...{ path, what, bytes: 1, sha256: '', state: 'new' },
        ...{ part: id, input: inputs.get(id) },
      }),
    ),
  );
  return { format: 'tuneladder-pack', version: 1, title: '', teacher: '', date: '', files, failed: [] };
};

const outOfDate = (before: ReturnType<typeof packOf>, after: ReturnType<typeof packOf>): readonly string[] =>
  partsOf(after.lesson, after.source, madeOf(before))
    .filter(({ state }) => state !== 'current')
    .map(({ id, state }) => `${id} ${state}`);

describe('what a change makes out of date', () => {
  const SHEETS = ['bones', 'plain', 'full', 'together'].map((id) => `sheet/${id}/a4 outOfDate`);
  test.each<readonly [string, Partial<LessonSettings>, readonly string[]]>([
    ['nothing', {}, []],
    [
      'a story',
      { story: 'Once.' },
      ['practice', 'notes', 'description', 'runningOrder', 'chapters'].map((id) => `text/${id} outOfDate`),
    ],
    [
      'fingers on paper',
      { marks: 'none' },
      [
        ...SHEETS,
        'page/chordGrid/a4 outOfDate',
        'page/fingerMap/a4 outOfDate',
        'page/phraseMap/a4 outOfDate',
        'text/musicxml outOfDate',
      ],
    ],
    [
      'one more paper',
      { papers: ['A4', 'Letter'] },
      [
        ...['bones', 'plain', 'full', 'together'].map((id) => `sheet/${id}/letter missing`),
        ...['chordGrid', 'fingerMap', 'phraseMap'].map((id) => `page/${id}/letter missing`),
      ],
    ],
    [
      'a track that is asked for',
      { tracks: [{ bars: '1-2' }] },
      ['track/full-bars-1-2-steady-with-backing missing', 'text/description outOfDate'],
    ],
  ])('%s', (_, changes, expected) => {
    const changed = outOfDate(packOf(), packOf(changes));
    // One more track changes the "of ten" that every track bears.
    const others =
      changes.tracks === undefined ? changed : changed.filter((id) => !/^track.*outOfDate/.test(id));
    expect([...others].sort()).toEqual([...expected].sort());
  });

  test('fuller bones leave what has none of them alone', () => {
    const changed = outOfDate(packOf(), packOf({ density: 'fuller' }));
    expect(changed).toContain('sheet/bones/a4 outOfDate');
    expect(changed).toContain('track/bones-to-learn-bare outOfDate');
    for (const id of ['sheet/full/a4', 'track/full-steady-with-backing', 'page/phraseMap/a4'])
      expect(changed.filter((c) => c.startsWith(id))).toEqual([]);
  });

  test('another title changes every name, and each part is known all the same', () => {
    const before = packOf();
    const after = packOf({}, TUNE.replace('Tin', 'Lost'));
    const parts = partsOf(after.lesson, after.source, madeOf(before));
    const sheet = parts.find(({ id }) => id === 'sheet/bones/a4');
    expect(sheet).toMatchObject({
      state: 'outOfDate',
      paths: ['sheets/01-the-lost-thimble-the-bones-a4.pdf'],
      there: ['sheets/01-the-tin-thimble-the-bones-a4.pdf'],
    });
  });

  test('another day does so only where the teacher has given the date', () => {
    expect(outOfDate(packOf({}, TUNE, true), packOf({ date: '2026-02-01' }, TUNE, true))).toEqual([]);
    expect(outOfDate(packOf(), packOf({ date: '2026-02-01' }))).toContain('sheet/bones/a4 outOfDate');
  });

  test('files that are gone or changed by hand are known, where somebody has looked', () => {
    const { lesson, source } = packOf();
    const manifest = madeOf({ lesson, source });
    const parts = partsOf(lesson, source, manifest, {
      gone: new Set(['tune.abc']),
      changed: new Set(['description.txt']),
    });
    const stateOf = (id: string) => parts.find((part) => part.id === id)?.state;
    expect(['text/abc', 'text/description', 'text/notes'].map(stateOf)).toEqual([
      'missing',
      'changedByHand',
      'current',
    ]);
  });

  test('a pack of an earlier program, which says nothing of parts, is out of date and not missing', () => {
    const { lesson, source } = packOf();
    const manifest = madeOf({ lesson, source });
    const files = manifest.files.map(({ part: _p, input: _i, ...file }) => file);
    const states = partsOf(lesson, source, { ...manifest, files }).map(({ state }) => state);
    expect(new Set(states)).toEqual(new Set(['outOfDate']));
  });
});

test('every part has an id of its own, also where a track is asked for twice', () => {
  const { lesson, source } = packOf({ tracks: [{ bars: '1-2' }, { bars: '1-2' }] });
  const ids = partsOf(lesson, source, null).map(({ id }) => id);
  expect(new Set(ids).size).toBe(ids.length);
  expect(ids).toContain('track/full-bars-1-2-steady-with-backing-2');
});

describe('(law) where the sum is the same, so is what is made', () => {
  const CHANGES: readonly Partial<LessonSettings>[] = [
    { story: 'Once.' },
    { density: 'fuller' },
    { tempos: { steady: 64 } },
    { marks: 'all' },
    { position: 3 },
    { names: { ...DEFAULT_SETTINGS.names, treble: 'birl' } },
    { versions: [{ kind: 'bones' }, { kind: 'plain' }] },
    { swing: 1.4, click: true, band: { players: ['piano'], pattern: 'other' } },
  ];

  // Two bars: to engrave them over and over takes the test's time.
  const SHORT = `${TUNE.split('|:')[0]}|~G3B {a}GBdB|(3BBB AF G4|\n`;

  /** The bytes; of a track, which takes long, its timeline. The other sheets and the practice page are made from what is summed. */
  const madeBy = async (job: PackJob, room: JobRoom): Promise<string> => {
    if (job.kind === 'track') return JSON.stringify(timelineOfTrack(room.lesson, job.plan));
    if (job.id === 'text/practice' || (job.kind === 'sheet' && job.versions.length === 1)) return '';
    const files = await runJob(job, room, () => undefined);
    return files.map((file) => Buffer.from(file).toString('base64')).join(' ');
  };

  test('of every sheet, page, track and text, whatever setting is changed', async () => {
    const before = packOf({}, SHORT);
    const room = roomOf(before.source);
    const jobs = packJobs(before.lesson, 'default');
    const sums = inputsOf(jobs, before.lesson, before.source);
    const made = new Map(
      await Promise.all(jobs.map(async (job) => [job.id, await madeBy(job, room)] as const)),
    );
    let same = 0;
    for (const changes of CHANGES) {
      const after = packOf(changes, SHORT);
      const roomAfter = roomOf(after.source);
      const jobsAfter = packJobs(after.lesson, 'default');
      const sumsAfter = inputsOf(jobsAfter, after.lesson, after.source);
      for (const job of jobsAfter) {
        if (sums.get(job.id) !== sumsAfter.get(job.id)) continue;
        same += 1;
        const isSame = (await madeBy(job, roomAfter)) === made.get(job.id);
        expect(isSame, `${job.id} with ${JSON.stringify(changes)}`).toBe(true);
      }
    }
    expect(same).toBeGreaterThan(60);
  }, 120_000);
});
