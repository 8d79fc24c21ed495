import { add, compare, equals, isMultipleOf, multiply, type Rational, rational } from '../core/index.ts';
import { isSamePitch } from '../music/index.ts';
import { addressKey, type Part, type Score } from '../score/index.ts';
import { bowingOf, type Spot, spotsOf } from './bowing.ts';
import { danceOfScore, hasOddBeats, runningUnitOf } from './runningUnit.ts';
import { metricalPlace, siteCost } from './slurSites.ts';
import { mapNotes, type StrokeChange, withStrokeChanges } from './strokeChanges.ts';
import { bestStrokes, type Joint } from './strokes.ts';

/** Ways of slurring that can be asked for. */
export const SLUR_STYLES = ['written', 'separate', 'onTheBeat', 'intoTheBeat', 'hooked'] as const;
/**
 * How notes are slurred. `written`: as the teacher has it. `separate`: a bow a note, and a slur only where the bar would
 * come out odd. `onTheBeat`: two notes from a beat on. `intoTheBeat`: from off the beat into it, over the bar line too.
 * `hooked`: the Scots snap in one direction, two strokes of it; for strathspeys.
 */
export type SlurStyle = (typeof SLUR_STYLES)[number];

/** A style with slurs of its own that keeps bars opening down. */
type BarStyle = Exclude<SlurStyle, 'written' | 'intoTheBeat'>;

interface Pace {
  /** The dance's beat. */
  readonly beat: Rational;
  readonly running: Rational;
}

/** What a wanted slur costs when it is left out, a bar that opens up, and one in a metre where that is the rule. Ours. */
const COST = { leftOut: 0.35, opensUp: 2, opensUpByMetre: 0.25 } as const;

const areRunning = (from: Spot, to: Spot, running: Rational): boolean =>
  [from, to].every(({ note }) => compare(note.length, running) <= 0);

/**
 * The beats that slurs of two start on: of a reel or jig every one, where beats are crotchets every second one, so that
 * half the notes keep a bow of their own.
 */
const startsSlur = (from: Spot, { beat, running }: Pace): boolean => {
  const perBeat = beat.num === 3 || compare(beat, multiply(running, rational(4))) >= 0 ? 1 : 2;
  return isMultipleOf(metricalPlace(from), multiply(beat, rational(perBeat)));
};

/** A short note and a longer one that fill a beat together: the Scots snap. */
const isSnap = (from: Spot, to: Spot, { beat }: Pace): boolean =>
  compare(from.note.length, to.note.length) < 0 &&
  equals(add(from.note.length, to.note.length), beat) &&
  isMultipleOf(metricalPlace(from), beat);

const jointOf = (style: BarStyle, from: Spot, to: Spot, pace: Pace): Joint => {
  const wanted =
    (style === 'onTheBeat' && startsSlur(from, pace) && areRunning(from, to, pace.running)) ||
    (style === 'hooked' && isSnap(from, to, pace));
  return { wanted, cost: wanted ? COST.leftOut : siteCost(from, to, pace.beat, pace.running) };
};

const slur = (from: Spot, to: Spot): StrokeChange => ({ kind: 'slur', at: from.address, to: to.address });

/** Notes before the first bar in one bow, as print has two and three of them; one alone keeps its own. */
const pickupSlur = (part: Part, beat: Rational): readonly StrokeChange[] => {
  const spots = spotsOf(part, beat).filter((s) => s.bar.role === 'pickup' && s.address.bar === 0);
  const [first, last] = [spots[0], spots.at(-1)];
  const parted = spots.some((s, i) => i > 0 && (!s.begins || repeats(spots[i - 1], s)));
  if (first === undefined || last === undefined || spots.length < 2 || spots.length > 3 || parted) return [];
  return [slur(first, last)];
};

const repeats = (a: Spot | undefined, b: Spot): boolean =>
  a !== undefined && isSamePitch(a.note.pitches[0], b.note.pitches[0]);

const slursByBar = (part: Part, style: BarStyle, pace: Pace, oddBeats: boolean): readonly StrokeChange[] => {
  const pickup = style === 'onTheBeat' ? pickupSlur(part, pace.beat) : [];
  const strokes = bestStrokes(part, pace.beat, {
    joint: (from, to) => (from.bar.role === 'pickup' ? null : jointOf(style, from, to, pace)),
    opensUp: oddBeats ? COST.opensUpByMetre : COST.opensUp,
    retake: null,
  });
  const inBars = strokes.flatMap((stroke, i) => {
    const before = strokes[i - 1];
    return stroke.how === 'joined' && before !== undefined ? [slur(before.spot, stroke.spot)] : [];
  });
  return [...pickup, ...inBars];
};

/** Whether the second note follows the first at once in playing: in one bar, or over a bar line that nothing begins at. */
const followsOn = (from: Spot, to: Spot): boolean => {
  if (from.address.bar === to.address.bar)
    return equals(add(from.address.onset, from.note.length), to.address.onset);
  return (
    to.begins &&
    to.address.onset.num === 0 &&
    to.bar.repeatStart === 0 &&
    to.bar.ending === null &&
    from.bar.repeatEnd === 0
  );
};

/** Slurs from a running note off the beat into the note on the beat. */
const slursIntoBeats = (part: Part, { beat, running }: Pace): readonly StrokeChange[] => {
  const pulse = beat.num === 3 ? beat : multiply(running, rational(2));
  const spots = spotsOf(part, beat);
  return spots.flatMap((from, i) => {
    const to = spots[i + 1];
    if (to === undefined || from.bar.role === 'pickup' || !followsOn(from, to) || !to.begins || to.afterRest)
      return [];
    const into = isMultipleOf(metricalPlace(to), pulse) && !isMultipleOf(metricalPlace(from), pulse);
    const short = compare(from.note.length, running) <= 0 && from.note.tuplet === null;
    return into && short && !from.note.tiedToNext && from.begins && !repeats(from, to)
      ? [slur(from, to)]
      : [];
  });
};

const hasWrittenBow = (part: Part): boolean =>
  part.bars.some((bar) => bar.events.some((e) => e.kind === 'note' && e.bow !== null));

/** Both notes of each snap in the direction of the first. */
const withHooks = (score: Score, slurs: readonly StrokeChange[], pace: Pace): Score => {
  const bows = new Map(bowingOf(score).map((n) => [addressKey(n.address), n.bow]));
  const spots = new Map(
    score.parts.flatMap((part) => spotsOf(part, pace.beat)).map((s) => [addressKey(s.address), s]),
  );
  const hooks = slurs.flatMap((change): readonly StrokeChange[] => {
    if (change.kind !== 'slur') return [];
    const [from, to] = [spots.get(addressKey(change.at)), spots.get(addressKey(change.to))];
    const bow = bows.get(addressKey(change.at));
    if (from === undefined || to === undefined || bow === undefined || !isSnap(from, to, pace)) return [];
    return [{ kind: 'bow', at: change.to, bow }];
  });
  return withStrokeChanges(score, hooks);
};

/**
 * The score slurred in a style.
 *
 * A part in which bows are written keeps its own slurs. All styles but `intoTheBeat` choose so that full bars open with a
 * down-bow without taking it again, leaving out a slur or adding one; into the beat no stroke starts on the beat, and it
 * is the part that starts down. Pick-ups of two or three notes are one up-bow on the beat, as in print.
 * @see Source: slurs and pick-ups as counted in Ryan's Mammoth Collection 1883; costs are ours
 */
export const withSlurs = (score: Score, style: SlurStyle): Score => {
  if (style === 'written') return score;
  const dance = danceOfScore(score);
  const pace: Pace = { beat: dance.beat, running: runningUnitOf(dance, score.metre) };
  const kept = new Set(score.parts.filter(hasWrittenBow).map((part) => part.label));
  const bare = mapNotes(score, (note, at) =>
    kept.has(at.part) ? note : { ...note, slurs: { opens: 0, closes: 0 } },
  );
  const oddBeats = hasOddBeats(score);
  const slurs = bare.parts
    .filter((part) => !kept.has(part.label))
    .flatMap((part) =>
      style === 'intoTheBeat' ? slursIntoBeats(part, pace) : slursByBar(part, style, pace, oddBeats),
    );
  const slurred = withStrokeChanges(bare, slurs);
  return style === 'hooked' ? withHooks(slurred, slurs, pace) : slurred;
};
