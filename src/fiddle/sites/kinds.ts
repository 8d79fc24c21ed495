import { asWholeNotes, compare, equals, type Rational, rational, sum } from '../../core/index.ts';
import { midiOf, type Pitch, staffStepOf } from '../../music/index.ts';
import type { Bow, Finger } from '../../score/index.ts';
import { flickAbove, nextAbove, nextBelow } from '../flicks.ts';
import { everyHoldOf } from '../holds.ts';
import { openStringOf, STRINGS } from '../strings.ts';
import { STANDARD_TUNING } from '../tuning.ts';
import type { OrnamentSite, SiteKind } from './ornamentSite.ts';
import { isFree, type Spot } from './spot.ts';

const FOURTH_FINGER = 4;
/** The shortest note that bears a cut, in running notes: the notes of a triplet and of a dotted pair do. Ours. */
const SHORTEST_CUT = rational(1, 2);
/** A slide comes from about a semitone below, so that much of the string must lie below the finger. Common practice. */
const SLIDE_ROOM = 2;

const lasts = (spot: Spot, times: number): boolean => equals(spot.running, rational(times));
const lastsAtLeast = (spot: Spot, times: Rational): boolean => compare(spot.running, times) >= 0;
const isAccented = (spot: Spot): boolean => spot.accent !== 'none';
const isStopped = ({ held }: Spot): boolean => held.finger >= 1 && held.finger < FOURTH_FINGER;

/** The finger that has a pitch on the note's own string, the hand where it is, when it is another than the note's. */
const fingerFor = (pitch: Pitch, { held }: Spot): Finger | null => {
  const place = STRINGS.findIndex((s) => s.name === held.string);
  const hold = everyHoldOf(pitch, STANDARD_TUNING).find(
    (h) =>
      h.place === place &&
      h.finger !== held.finger &&
      (h.finger === 0 || held.finger === 0 ? h.position === 1 : h.position === held.position),
  );
  return hold?.finger ?? null;
};

const siteAt = (
  kind: SiteKind,
  spot: Spot,
  more: Partial<OrnamentSite> & { readonly others: readonly Pitch[] },
): OrnamentSite => ({
  kind,
  address: spot.address,
  events: 1,
  length: spot.note.length,
  pitch: spot.note.pitches[0],
  string: spot.held.string,
  finger: spot.held.finger,
  flicks: [],
  beside: null,
  refingered: false,
  strokes: spot.bowed.begins ? [spot.bowed.bow] : [],
  accent: spot.accent,
  beat: spot.beat,
  running: spot.running,
  equalBefore: spot.equalBefore,
  index: spot.index,
  ...more,
});

/**
 * What one kind of ornament asks of the place; null where hand or bow can't do it. `group`: the note and up to two that
 * follow it in its bar with no rest between.
 */
type SiteRule = (spot: Spot, group: readonly Spot[]) => OrnamentSite | null;

/** A note under the fourth finger as the open string that it could be as well. */
const opened = (spot: Spot): Spot => {
  const open = spot.held.finger === FOURTH_FINGER ? openStringOf(spot.note.pitches[0]) : null;
  if (open === null) return spot;
  return { ...spot, held: { ...spot.held, string: open.name, finger: 0, position: 1, semitones: 0 } };
};

/** Between two notes of one pitch, or before an accented note; none above a fourth finger, but above its open string. */
const cutAt: SiteRule = (written) => {
  const spot = opened(written);
  if (!lastsAtLeast(spot, SHORTEST_CUT) || (!isAccented(spot) && !spot.equalBefore)) return null;
  if (spot.held.finger === FOURTH_FINGER) return null;
  const flicked = flickAbove(spot.note.pitches[0], spot.bar.key);
  const finger = fingerFor(flicked, spot);
  return finger === null
    ? null
    : siteAt('cut', spot, { others: [flicked], flicks: [finger], refingered: spot !== written });
};

/** Above an open string: second finger, first finger, the string. */
const twoCutsAt: SiteRule = (spot) => {
  if (spot.held.finger !== 0 || !isAccented(spot) || !lastsAtLeast(spot, rational(2))) return null;
  const [main] = spot.note.pitches;
  const others = [flickAbove(main, spot.bar.key), nextAbove(main, spot.bar.key)];
  const flicks = others.flatMap((pitch) => fingerFor(pitch, spot) ?? []);
  const [upper, lower] = flicks;
  return upper === undefined || lower === undefined || upper === lower
    ? null
    : siteAt('doubleGrace', spot, { others, flicks });
};

/** Cut and strike round a stopped note; null where a finger is lacking. */
const rollRound = (spot: Spot): Pick<OrnamentSite, 'others' | 'flicks'> | null => {
  if (!isStopped(spot) || !isAccented(spot) || spot.note.tiedToNext) return null;
  const [main] = spot.note.pitches;
  const [cut, strike] = [flickAbove(main, spot.bar.key), nextBelow(main, spot.bar.key)];
  const upper = fingerFor(cut, spot);
  if (upper === null || fingerFor(strike, spot) === null) return null;
  return { others: [cut, strike], flicks: [upper, spot.held.finger] };
};

const shortRollAt: SiteRule = (spot) => {
  const round = lasts(spot, 2) ? rollRound(spot) : null;
  return round === null ? null : siteAt('shortRoll', spot, round);
};

/** Whether a note can be merged with others into an ornament: nothing on it, no tie, no slur, no tuplet. */
const isBare = (spot: Spot): boolean =>
  isFree(spot) && spot.note.tuplet === null && !spot.note.tiedToNext && !spot.slurred;

const isBareRunning = (spot: Spot): boolean => isBare(spot) && lasts(spot, 1);

/**
 * Note–x–note of one pitch in three running notes from a beat on, x its neighbour or itself: one stroke takes the place of
 * three.
 */
const noteXNote = (three: readonly Spot[]): boolean => {
  if (three[0]?.accent !== 'bar' && three[0]?.accent !== 'beat') return false;
  const [a, x, b] = three.map((s) => s.note.pitches[0]);
  if (a === undefined || x === undefined || b === undefined) return false;
  const returns = midiOf(a) === midiOf(b) && Math.abs(staffStepOf(a) - staffStepOf(x)) <= 1;
  return returns && three.every(isBareRunning);
};

const longRollAt: SiteRule = (spot, group) => {
  const round = rollRound(spot);
  if (round === null) return null;
  if (lasts(spot, 3)) return siteAt('longRoll', spot, round);
  return noteXNote(group) ? siteAt('longRoll', spot, { ...round, ...lengthOf(group) }) : null;
};

const lengthOf = (group: readonly Spot[]): Pick<OrnamentSite, 'events' | 'length'> => ({
  events: group.length,
  length: asWholeNotes(sum(group.map((s) => s.note.length))),
});

const turned = (bow: Bow): Bow => (bow === 'down' ? 'up' : 'down');

/** In place of a crotchet that has its own stroke: three strokes turn the bow no more than one. */
const trebleAt: SiteRule = (spot) => {
  if (!lasts(spot, 2) || !isAccented(spot) || !isBare(spot)) return null;
  const { bow } = spot.bowed;
  return siteAt('treble', spot, { others: [], strokes: [bow, turned(bow), bow] });
};

/** Two running notes a third apart, the first of them accented, and the note between. */
const runTripletAt: SiteRule = (spot, group) => {
  const pair = group.slice(0, 2);
  const [a, b] = pair;
  if (a === undefined || b === undefined || !isAccented(a) || !pair.every(isBareRunning)) return null;
  const steps = staffStepOf(b.note.pitches[0]) - staffStepOf(a.note.pitches[0]);
  if (Math.abs(steps) !== 2) return null;
  const between = (steps > 0 ? nextAbove : nextBelow)(a.note.pitches[0], a.bar.key);
  return siteAt('runTriplet', spot, {
    ...lengthOf(pair),
    others: [between],
    strokes: pair.map((s) => s.bowed.bow),
  });
};

const slideAt: SiteRule = (spot) => {
  const long = lastsAtLeast(spot, rational(2)) && isAccented(spot);
  return long && isStopped(spot) && spot.held.semitones >= SLIDE_ROOM
    ? siteAt('slide', spot, { others: [] })
    : null;
};

/** The open string below rings along; under the lowest string there is none. */
const droneAt: SiteRule = (spot) => {
  const place = STRINGS.findIndex((s) => s.name === spot.held.string);
  const below = STRINGS[place - 1];
  if (below === undefined || !lastsAtLeast(spot, rational(2)) || spot.held.position !== 1) return null;
  return siteAt('drone', spot, { others: [below.open], beside: below.name });
};

/** An open string and the fourth finger on the string below it. */
const unisonAt: SiteRule = (spot) => {
  const place = STRINGS.findIndex((s) => s.midi === midiOf(spot.note.pitches[0]));
  const [below, open] = [STRINGS[place - 1], STRINGS[place]];
  if (below === undefined || open === undefined) return null;
  if (!lastsAtLeast(spot, rational(2)) || !isAccented(spot)) return null;
  return siteAt('unison', spot, {
    others: [spot.note.pitches[0]],
    string: below.name,
    finger: FOURTH_FINGER,
    beside: open.name,
  });
};

/** The rule of each kind. */
export const SITE_RULES: Readonly<Record<SiteKind, SiteRule>> = {
  cut: cutAt,
  doubleGrace: twoCutsAt,
  shortRoll: shortRollAt,
  longRoll: longRollAt,
  treble: trebleAt,
  runTriplet: runTripletAt,
  slide: slideAt,
  drone: droneAt,
  unison: unisonAt,
};
