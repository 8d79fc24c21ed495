import { loadEngraver } from '../engrave/index.ts';
import { withChords } from '../harmony/index.ts';
import {
  creditOf,
  descriptionOf,
  type Lesson,
  markedVersion,
  midiSongOf,
  RIGHTS_LINE,
  runningOrderText,
  runningOrderVtt,
  sourceOfSetting,
  teachingNotesOf,
  timelineOfTune,
  titlesOf,
} from '../lesson/index.ts';
import { writeMidi, writeMusicXml } from '../notation/index.ts';
import type { TextKind } from './jobs.ts';
import { loadBank } from './loadBank.ts';
import { notesPage } from './notesPage.ts';
import { ornamentPictures, partPictures } from './partPictures.ts';
import { practicePage } from './practicePage.ts';
import type { PackSource } from './source.ts';

const midiBytes = (lesson: Lesson): Uint8Array => {
  const { key, metre } = lesson.written;
  return writeMidi(
    midiSongOf(timelineOfTune(lesson), {
      title: titlesOf(lesson)[0] ?? '',
      key,
      metre,
      rights: creditOf(lesson),
      score: lesson.written,
    }),
  );
};

const musicXml = (lesson: Lesson): string =>
  writeMusicXml({
    title: titlesOf(lesson)[0] ?? '',
    composer: creditOf(lesson),
    source: sourceOfSetting(lesson),
    rights: RIGHTS_LINE,
    date: lesson.settings.date,
    parts: lesson.ladder.map((version) => {
      const { score, strings } = markedVersion(lesson, version);
      return { id: version.id, name: version.name, score: withChords(score, lesson.chords), strings };
    }),
  });

const notesOf = async (lesson: Lesson): Promise<string> => {
  const engraver = await loadEngraver();
  const notes = teachingNotesOf(lesson);
  return notesPage(lesson, notes, {
    parts: partPictures(lesson, engraver),
    ornaments: ornamentPictures(lesson, notes.ornaments, engraver),
  });
};

/** The content of one of the pack's small files. */
export const textFile = async (
  kind: TextKind,
  lesson: Lesson,
  source: PackSource,
  onProgress: () => void,
): Promise<string | Uint8Array> => {
  switch (kind) {
    case 'abc':
      return source.abc;
    case 'musicxml':
      return musicXml(lesson);
    case 'midi':
      return midiBytes(lesson);
    case 'practice':
      return practicePage(lesson, { engraver: await loadEngraver(), bank: await loadBank() }, onProgress);
    case 'notes':
      return notesOf(lesson);
    case 'description':
      return descriptionOf(lesson, source.tracks);
    case 'runningOrder':
      return runningOrderText(lesson);
    case 'chapters':
      return runningOrderVtt(lesson);
    default:
      return kind satisfies never;
  }
};
