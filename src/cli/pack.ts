import { parseArgs } from 'node:util';
import {
  keptRemarks,
  type Lesson,
  lessonOf,
  type TrackChoice,
  trackLength,
  trackPlans,
  trackProblems,
  versionRemarks,
  wayRemarks,
} from '../lesson/index.ts';
import { buildPack, inspectOwnSound, OwnSoundError, type PackSource, sourceOf } from '../pack/index.ts';
import { reportBuild } from './buildReport.ts';
import { chooseTune } from './chooseTune.ts';
import { complain, EXIT, type Exit, type Io, say, UsageError } from './io.ts';
import { oneOf } from './oneOf.ts';
import { openSource } from './openSource.ts';
import { PACK_OPTIONS, settingsFrom, wholeNumber } from './packOptions.ts';
import { updateOf } from './packUpdate.ts';
import { writeParcels } from './parcels.ts';
import { progressOn } from './progress.ts';
import { complainAll, hasError, pathFrom } from './readTunes.ts';
import { TRACK_HELP } from './trackOptions.ts';

/** Help of `pack`. */
export const PACK_HELP = `tuneladder pack FILE.abc|LESSON --out DIR [options]

Makes a lesson pack: sheets (PDF), play-along tracks, notes, ABC, MusicXML, MIDI, one zip.
LESSON is a folder with tune.abc and lesson.json. DIR must be new, empty, or an earlier pack.

  --tune N                 which tune, by its number (X:), where the file holds several
  --tracks default|all     the ten tracks that a learner needs, or all twenty-one
  --times N                times through in a track, 1 to 9 (default 2)
  --paper a4|letter|both   paper of the sheets (default both)
  --large-print            larger music and words on the sheets
  --teacher NAME           name at the foot of every sheet
  --date YYYY-MM-DD        date of the sheets (default today)
  --density STEP           how full the bones are: barest, sparser, usual, fuller, fullest
  --marks none|some|all    fingers and bows on the sheets (default some)
  --stay-downs WHERE       where a finger stays down: on the sheet of the bones, all, none (default bones)
  --slurs STYLE            slurs of all the notes: written, separate, on-the-beat, into-the-beat,
                           hooked (default written)
  --position 1|3           the highest position of the left hand (default 1)
  --tuning NOTES           GDAE, AEAE, ADAE or GDGD (default GDAE)
  --words british|us       crotchet or quarter note
  --anyway                 build although the tune has errors
  --parcels FOLDER         a zip and the draft of a letter for the public, for subscribers and for supporters;
                           lesson.json says what is for whom (audiences)
  --update                 makes only what is missing from DIR or was made from an earlier state of the lesson

${TRACK_HELP}

Options given here win over lesson.json; tracks and recordings come on top of those there.`;

/** Complains of what is wrong with the tracks that were asked for; remarks on recordings that look odd. */
const tracksCanBeMade = async (lesson: Lesson, choice: TrackChoice, io: Io): Promise<boolean> => {
  const problems = trackProblems(lesson, choice);
  for (const problem of problems) complain(io, problem);
  if (problems.length > 0) return false;
  try {
    for (const plan of trackPlans(lesson, choice)) {
      if (plan.own === null) continue;
      const replaced = lesson.settings.recordings.some((r) => r.track === plan.number);
      const expected = replaced ? trackLength(lesson, plan) : null;
      for (const remark of await inspectOwnSound(plan.own, expected)) complain(io, `remark: ${remark}`);
    }
    return true;
  } catch (error) {
    if (!(error instanceof OwnSoundError)) throw error;
    complain(io, `${error.message}.`);
    return false;
  }
};

/** What is to be built. */
interface Order {
  readonly lesson: Lesson;
  readonly source: PackSource;
  /** Only what is out of date. */
  readonly update: boolean;
}

const buildInto = async (name: string, { lesson, source, update }: Order, io: Io): Promise<Exit> => {
  const out = pathFrom(io, name);
  const asked = update ? await updateOf(lesson, source, out) : null;
  if (asked?.parts.length === 0 && !asked.leftovers) {
    say(io, `Everything in ${name} is up to date. Nothing was made.`);
    return EXIT.done;
  }
  const progress = progressOn(io);
  const began = io.now().getTime();
  const result = await buildPack(lesson, source, {
    out,
    signal: io.signal,
    onProgress: progress.show,
    ...(asked === null ? {} : { only: asked.parts, leftovers: 'go' }),
  }).finally(progress.clear);
  const seconds = (io.now().getTime() - began) / 1000;
  return reportBuild(result, { out: name, seconds, only: asked?.parts ?? null }, io);
};

/** `tuneladder pack`. */
export const pack = async (argv: readonly string[], io: Io): Promise<Exit> => {
  const { values, positionals } = parseArgs({
    args: [...argv],
    options: PACK_OPTIONS,
    allowPositionals: true,
  });
  const [name, ...more] = positionals;
  if (name === undefined || more.length > 0)
    throw new UsageError('pack: name one ABC file or one lesson folder');
  if (values.out === undefined || values.out === '') throw new UsageError('pack: say where with --out DIR');
  const number = values.tune === undefined ? undefined : wholeNumber('tune', values.tune, 0, 1_000_000_000);
  const tracks = oneOf('pack: --tracks', values.tracks, ['default', 'all'] as const);
  const source = await openSource(name, io);
  if (source === null) return EXIT.input;
  const settings = settingsFrom(values, source.stored, (file) => pathFrom(io, file));
  const tune = chooseTune(source.file, { number, times: settings.times }, io);
  if (tune === null) return EXIT.input;
  complainAll(
    io,
    source.file,
    tune.diagnostics.filter((d) => d.severity !== 'remark'),
  );
  if (hasError(tune.diagnostics) && !values.anyway) {
    complain(io, 'Nothing was built. Mend the errors, or build all the same with --anyway.');
    return EXIT.input;
  }
  const lesson = lessonOf(tune.score, settings);
  if (!(await tracksCanBeMade(lesson, tracks, io))) return EXIT.input;
  for (const { anchor, kind } of lesson.ornamentsLeft)
    complain(
      io,
      `lesson.json: an accepted ornament (${kind}) has lost its note in part ${anchor.part}; it is left out.`,
    );
  for (const words of [
    ...versionRemarks(lesson),
    ...keptRemarks(lesson)
      .filter(({ asks }) => asks)
      .map((r) => r.words),
    ...wayRemarks(lesson),
  ])
    complain(io, `${source.file.name}:1:1: remark: ${words}`);
  const { date, update, out } = values;
  const packed = {
    ...sourceOf(source.file.text, tune, settings, tracks),
    undated: date === undefined && !source.dated,
  };
  const exit = await buildInto(out, { lesson, source: packed, update }, io);
  if (values.parcels !== undefined && exit === EXIT.done)
    await writeParcels(lesson, pathFrom(io, out), values.parcels, io);
  return exit;
};
