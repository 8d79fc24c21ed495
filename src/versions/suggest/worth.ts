import { compare } from '../../core/index.ts';
import type { OrnamentSite } from '../../fiddle/index.ts';
import { type ChordPlan, chordPlanOf } from '../../harmony/index.ts';
import { type Chord, chordChromas, chromaOf, type DanceId, isHarsh } from '../../music/index.ts';
import type { Score } from '../../score/index.ts';
import { FOR, LIKING, ON, WORTH } from './data.ts';
import type { Reason } from './suggestion.ts';

/** What speaks for an ornament and how much. */
export interface Weighed {
  readonly worth: number;
  readonly reasons: readonly Reason[];
}

/** What a site is weighed against. */
export interface WeighingContext {
  readonly dance: DanceId;
  readonly chordAt: (site: OrnamentSite) => Chord | null;
  /** Whether it is the last note of its part. */
  readonly isLast: (site: OrnamentSite) => boolean;
}

/** One thing that speaks for a place, or against it; without a reason where it need not be said. */
interface Voice {
  readonly weight: number;
  readonly reason?: Reason;
}

/** The chord over each place of a tune, by its chord plan. */
export const chordFinder = (plain: Score): WeighingContext['chordAt'] => {
  const bars = new Map<string, ChordPlan>();
  for (const chord of chordPlanOf(plain)) {
    const key = `${chord.part}/${chord.bar}`;
    bars.set(key, [...(bars.get(key) ?? []), chord]);
  }
  return ({ address }) =>
    bars.get(`${address.part}/${address.bar}`)?.findLast((c) => compare(c.onset, address.onset) <= 0)
      ?.chord ?? null;
};

const accentVoice = ({ accent }: OrnamentSite): Voice =>
  accent === 'none' ? { weight: ON.none } : { weight: ON[accent], reason: { kind: 'accent', accent } };

const chordVoice = (site: OrnamentSite, chord: Chord | null): readonly Voice[] =>
  chord !== null && chordChromas(chord).includes(chromaOf(site.pitch))
    ? [{ weight: FOR.chordTone, reason: { kind: 'chordTone', chord } }]
    : [];

const lengthVoice = ({ length }: OrnamentSite): Voice => ({
  weight: 0,
  reason: { kind: 'length', length },
});

const LITTLE = 4;
/** What the hand would rather not do. */
const unease = (site: OrnamentSite): Voice => ({
  weight: (site.flicks.includes(LITTLE) ? FOR.littleFinger : 0) + (site.refingered ? FOR.refingered : 0),
});

/** On an open string players do something else than a roll. */
const openVoice = (site: OrnamentSite): readonly Voice[] => {
  const string = site.kind === 'unison' ? site.beside : site.finger === 0 ? site.string : null;
  return string === null ? [] : [{ weight: 0, reason: { kind: 'openString', string } }];
};

const trebleVoice = ({ finger }: OrnamentSite): readonly Voice[] => {
  if (finger > 1) return [];
  const weight = finger === 0 ? FOR.trebleOpen : FOR.trebleFirst;
  return [{ weight, reason: { kind: 'easyFinger', finger } }];
};

/** An open string that grates or is no tone of the chord does not ring there: null. */
const ringVoice = (site: OrnamentSite, chord: Chord | null): readonly Voice[] | null => {
  const [tone] = site.others;
  if (tone === undefined || site.beside === null || chord === null) return null;
  if (isHarsh(tone, site.pitch) || !chordChromas(chord).includes(chromaOf(tone))) return null;
  const asRoot = chromaOf(chord.root) === chromaOf(tone);
  return [
    {
      weight: asRoot ? FOR.ringsRoot : FOR.ringsInChord,
      reason: { kind: 'rings', string: site.beside, asRoot, chord },
    },
  ];
};

const voicesFor = (site: OrnamentSite, context: WeighingContext): readonly Voice[] | null => {
  const chord = context.chordAt(site);
  const [accent, inChord] = [accentVoice(site), chordVoice(site, chord)];
  const last = context.isLast(site);
  if (last && site.kind !== 'drone') return null;
  switch (site.kind) {
    case 'cut': {
      const equal: readonly Voice[] = site.equalBefore
        ? [{ weight: FOR.partsEqual, reason: { kind: 'partsEqual' } }]
        : [];
      return [...equal, accent, ...inChord, unease(site)];
    }
    case 'longRoll':
      return site.events === 1
        ? [lengthVoice(site), accent, ...inChord, unease(site)]
        : [{ weight: FOR.lostNote, reason: { kind: 'noteXNote' } }, accent, ...inChord, unease(site)];
    case 'shortRoll':
      return [lengthVoice(site), accent, ...inChord, unease(site)];
    case 'treble':
      if (site.finger === LITTLE) return null;
      return [...openVoice(site), ...trebleVoice(site), accent, ...inChord];
    case 'doubleGrace':
    case 'unison':
      return [...openVoice(site), accent, ...inChord];
    case 'runTriplet':
      return [{ weight: 0, reason: { kind: 'fillsThird' } }, accent];
    case 'slide':
      return [lengthVoice(site), accent, ...inChord];
    case 'drone': {
      const rings = ringVoice(site, chord);
      if (rings === null) return null;
      const closing: readonly Voice[] = last ? [{ weight: FOR.lastNote, reason: { kind: 'lastNote' } }] : [];
      return [...closing, ...rings, accent];
    }
    default:
      return site.kind satisfies never;
  }
};

/** How much speaks for an ornament there, and what; null where nobody would play it. */
export const weighed = (site: OrnamentSite, context: WeighingContext): Weighed | null => {
  const voices = voicesFor(site, context);
  if (voices === null) return null;
  const own = WORTH[site.kind] + (LIKING[context.dance][site.kind] ?? 0);
  return {
    worth: voices.reduce((sum, v) => sum + v.weight, own),
    reasons: voices.flatMap((v) => v.reason ?? []),
  };
};
