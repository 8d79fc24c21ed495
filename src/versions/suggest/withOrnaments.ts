import {
  add,
  asWholeNotes,
  compare,
  divide,
  equals,
  formatRational,
  rational,
  type WholeNotes,
} from '../../core/index.ts';
import { type OrnamentSite, ornamentSitesOf, type SiteKind } from '../../fiddle/index.ts';
import { isSamePitch, type Pitch } from '../../music/index.ts';
import {
  type Bar,
  type Event,
  type Note,
  type PlacedEvent,
  placedEvents,
  type Score,
} from '../../score/index.ts';

/** An ornament that the teacher has accepted: where it stands in the plain version, and what it is. */
export interface AcceptedOrnament {
  readonly part: string;
  /** Index of the bar among the part's written bars. */
  readonly bar: number;
  readonly onset: WholeNotes;
  readonly kind: SiteKind;
}

/** A tune with what was accepted put in, and what could not be. */
export interface Ornamented {
  readonly score: Score;
  /** Accepted ornaments whose note has gone or bears something else by now, or that no hand could play there. */
  readonly left: readonly AcceptedOrnament[];
}

const TRIPLET = { actual: 3, normal: 2, count: 3 } as const;

/** Three notes in that time, beamed together and to nothing else. */
const asTriplet = (notes: readonly [Note, Note, Note], length: WholeNotes): readonly Note[] => {
  const third = asWholeNotes(divide(length, rational(3)));
  return notes.map((note, index) => ({
    ...note,
    length: third,
    tuplet: { ...TRIPLET, index },
    beamedToNext: index < 2,
  }));
};

/** The same pitch again in a stroke of its own, without what is written on the first. */
const again = (note: Note, pitch: Pitch): Note => ({
  ...note,
  pitches: [pitch],
  bow: null,
  fingers: [],
  marks: [],
  otherDecorations: [],
  lyric: null,
});

/** The notes of a run: slurred to its middle, so that it takes the strokes of the two that it was made of. */
const run = (first: Note, last: Note, middle: Pitch): readonly [Note, Note, Note] => [
  { ...first, slurs: { opens: 1, closes: 0 } },
  { ...again(first, middle), slurs: { opens: 0, closes: 1 } },
  last,
];

/** What the notes that an ornament takes up become. */
const dressed = (site: OrnamentSite, notes: readonly Note[]): readonly Note[] => {
  const [first] = notes;
  const last = notes.at(-1);
  if (first === undefined || last === undefined) return notes;
  const [tone, ...more] = site.others;
  switch (site.kind) {
    case 'cut':
    case 'doubleGrace':
      if (tone === undefined) return notes;
      return [{ ...first, graces: { pitches: [tone, ...more], slashed: false } }];
    case 'shortRoll':
    case 'longRoll':
      return [
        {
          ...first,
          signs: [...first.signs, 'roll'],
          length: site.length,
          beamedToNext: site.events === 1 && first.beamedToNext,
        },
      ];
    case 'slide':
      return [{ ...first, signs: [...first.signs, 'slide'] }];
    case 'drone':
    case 'unison':
      return tone === undefined ? notes : [{ ...first, pitches: [first.pitches[0], tone] }];
    case 'treble': {
      const stroke = again(first, first.pitches[0]);
      return asTriplet([first, stroke, stroke], site.length);
    }
    case 'runTriplet':
      return tone === undefined ? notes : asTriplet(run(first, last, tone), site.length);
    default:
      return site.kind satisfies never;
  }
};

const isUndressed = (note: Note): boolean =>
  note.graces === null && note.signs.length === 0 && note.pitches.length === 1;

/** The written notes at a site, when they are still what the plain version has there. */
const notesAt = (
  site: OrnamentSite,
  written: readonly PlacedEvent[],
  plain: readonly PlacedEvent[],
): readonly Note[] | null => {
  const from = written.findIndex(({ onset }) => equals(onset, site.address.onset));
  const plainFrom = plain.findIndex(({ onset }) => equals(onset, site.address.onset));
  if (from < 0 || plainFrom < 0) return null;
  const notes = written.slice(from, from + site.events).map(({ event }) => event);
  const same = notes.every((event, i) => {
    const there: Event | undefined = plain[plainFrom + i]?.event;
    if (event.kind !== 'note' || there?.kind !== 'note' || !isUndressed(event)) return false;
    return isSamePitch(event.pitches[0], there.pitches[0]) && equals(event.length, there.length);
  });
  return same && notes.length === site.events ? notes.filter((e) => e.kind === 'note') : null;
};

/** Whether something is written over the inside of a group, which would lose its note. */
const isWrittenOver = (bar: Bar, site: OrnamentSite): boolean => {
  if (site.events === 1) return false;
  const from = site.address.onset;
  const until = add(from, site.length);
  return [...bar.chords, ...bar.annotations, ...bar.fields].some(
    ({ onset }) => compare(onset, from) > 0 && compare(onset, until) < 0,
  );
};

/** The bar with one ornament more; null where it can't have it. */
const barWith = (bar: Bar, site: OrnamentSite, plain: Bar): Bar | null => {
  const placed = placedEvents(bar);
  const notes = notesAt(site, placed, placedEvents(plain));
  if (notes === null || isWrittenOver(bar, site)) return null;
  const from = placed.findIndex(({ onset }) => equals(onset, site.address.onset));
  const events = bar.events.toSpliced(from, site.events, ...dressed(site, notes));
  return { ...bar, events };
};

const siteKey = (part: string, bar: number, onset: WholeNotes, kind: SiteKind): string =>
  `${bar}/${formatRational(onset)}/${kind}/${part}`;

/**
 * The tune as written with the ornaments that the teacher has accepted.
 *
 * What is written stays; an ornament that has lost its note, or would stand on top of another, is left out and told.
 * @param written - the teacher's setting
 * @param plain - its version with all the notes, which the addresses are of
 */
export const withOrnaments = (
  written: Score,
  plain: Score,
  accepted: readonly AcceptedOrnament[],
): Ornamented => {
  if (accepted.length === 0) return { score: written, left: [] };
  const sites = new Map(
    ornamentSitesOf(plain).map((site) => {
      const { part, bar, onset } = site.address;
      return [siteKey(part, bar, onset, site.kind), site];
    }),
  );
  const bars = new Map<string, Bar>();
  const barAt = (score: Score, part: string, bar: number): Bar | undefined =>
    score.parts.find((p) => p.label === part)?.bars[bar];
  const left = accepted.filter(({ part, bar, onset, kind }) => {
    const key = `${bar}/${part}`;
    const now = bars.get(key) ?? barAt(written, part, bar);
    const [site, there] = [sites.get(siteKey(part, bar, onset, kind)), barAt(plain, part, bar)];
    const next = now && site && there ? barWith(now, site, there) : null;
    if (next !== null) bars.set(key, next);
    return next === null;
  });
  const parts = written.parts.map((part) => ({
    ...part,
    bars: part.bars.map((bar, i) => bars.get(`${i}/${part.label}`) ?? bar),
  }));
  return { score: { ...written, parts }, left };
};
