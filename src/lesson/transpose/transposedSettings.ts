import { formatPitch, type Interval, pitch, transposedPitch } from '../../music/index.ts';
import type { Anchor } from '../anchors/index.ts';
import type { KeptBar, StoredEvent } from '../kept/index.ts';
import type { OwnNote } from '../notes/ownNote.ts';
import type { LessonSettings } from '../settings.ts';
import type { KeptWay } from '../ways/index.ts';

/** What of a lesson's settings speaks of pitches. */
export type PitchedSettings = Pick<
  LessonSettings,
  'keptBars' | 'ways' | 'barTable' | 'acceptedOrnaments' | 'stayDownChoices' | 'ownNotes'
>;

const NAME = /^[A-G](?:##|bb|#|b)?-?\d+$/;

const movedName = (name: string, interval: Interval): string =>
  NAME.test(name) ? formatPitch(transposedPitch(pitch(name), interval)) : name;

/** A bar's fingerprint moved: "G4:1/8 z1/8 B4:1/4". */
const movedFingerprint = (fingerprint: string, interval: Interval): string =>
  fingerprint
    .split(' ')
    .map((event) => {
      const [name = '', ...rest] = event.split(':');
      return [movedName(name, interval), ...rest].join(':');
    })
    .join(' ');

const movedEvent = (event: StoredEvent, interval: Interval): StoredEvent => {
  if ('rest' in event) return event;
  // In another key the fingers are others.
  const { fingers, pitches, graces, ...rest } = event;
  const keepsFingers = fingers !== undefined && interval.steps === 0;
  return {
    ...rest,
    pitches: pitches.map((name) => movedName(name, interval)),
    ...(graces === undefined ? {} : { graces: graces.map((name) => movedName(name, interval)) }),
    ...(keepsFingers ? { fingers } : {}),
  };
};

/**
 * What is attached to a lesson's bars, when its tune is moved by an interval: kept bars, accepted ornaments and own notes
 * stay at their bars, kept bars are moved with them. Fingers of kept bars are left out, and so is what was said of fingers
 * that stay down: the hands are worked out anew.
 */
export const transposedSettings = (settings: PitchedSettings, interval: Interval): PitchedSettings => {
  const anchored = (anchor: Anchor): Anchor => ({
    ...anchor,
    plain: movedFingerprint(anchor.plain, interval),
  });
  const moved = <T extends KeptBar | KeptWay>(kept: T): T => ({
    ...kept,
    anchor: anchored(kept.anchor),
    ...(kept.keptFor === undefined ? {} : { keptFor: movedFingerprint(kept.keptFor, interval) }),
    events: kept.events.map((event) => movedEvent(event, interval)),
  });
  return {
    keptBars: settings.keptBars.map(moved),
    ways: settings.ways.map(moved),
    barTable:
      settings.barTable?.map(({ part, bars }) => ({
        part,
        bars: bars.map((fingerprint) => movedFingerprint(fingerprint, interval)),
      })) ?? null,
    acceptedOrnaments: settings.acceptedOrnaments.map((entry) => ({
      ...entry,
      anchor: anchored(entry.anchor),
    })),
    stayDownChoices: [],
    ownNotes: settings.ownNotes.map((note): OwnNote => {
      if (note.about !== 'bar' || note.anchor.plain === undefined) return note;
      return { ...note, anchor: { ...note.anchor, plain: movedFingerprint(note.anchor.plain, interval) } };
    }),
  };
};
