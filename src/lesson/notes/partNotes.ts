import type { AwkwardPlace, BarDifficulty, WorkParts } from '../../fiddle/index.ts';
import type { Address, Part } from '../../score/index.ts';
import type { MappedBar } from '../maps/phraseMap.ts';
import { movedWords } from '../maps/phraseMapWords.ts';
import { inSentence } from '../words.ts';
import { joinedPieces, type Piece, said, saying } from './claims.ts';
import { barKey, barsSaid, type NoteFacts, placeName, stretchSaid } from './noteFacts.ts';
import { ornamentWords } from './ornamentWords.ts';
import type { Ranked } from './tuneNotes.ts';

const start = (place: { readonly part: string; readonly bar: number }): Address => ({
  part: place.part,
  bar: place.bar,
  onset: { num: 0, den: 1 } as Address['onset'],
});

/** Things that are said in the same words, wherever in the tune; each group belongs to the part where it first comes. */
const saidAlike = <T extends { readonly from: Address }>(
  things: readonly T[],
  part: Part,
  wordsOf: (thing: T) => string,
): readonly (readonly [T, ...T[]])[] => {
  const groups = new Map<string, [T, ...T[]]>();
  for (const thing of things) {
    const group = groups.get(wordsOf(thing));
    if (group === undefined) groups.set(wordsOf(thing), [thing]);
    else group.push(thing);
  }
  return [...groups.values()].filter(([first]) => first.from.part === part.label);
};

/** Which fingers stay down in the bones. */
const stayDowns = (facts: NoteFacts, part: Part): readonly Ranked[] => {
  const inOrder = facts.lesson.versions.full.parts.flatMap((p) =>
    facts.stays.filter((stay) => stay.from.part === p.label),
  );
  return saidAlike(inOrder, part, (stay) => stay.reason).map((stays, i) => {
    const at = stays.flatMap(({ from, to }) => [from, to]);
    const words = inSentence(stays[0].reason).replace(/\.$/, '');
    const reason: Piece = { words, claim: { kind: 'stayDown', version: 'bones', at, stays } };
    const bars = stretchSaid(facts, stays, 'bones');
    return {
      subject: `stay-down ${i + 1}`,
      saying: saying(said`In the bones, ${bars}: ${reason}.`),
      worth: i === 0 ? 7.5 : 5,
    };
  });
};

/** How much each kind of awkward place is worth saying. Ours. */
const AWKWARD_WORTH: Readonly<Record<AwkwardPlace['kind'], number>> = {
  splitFifth: 7.8,
  twoSeconds: 7,
  outOfReach: 9,
  shift: 7,
  stretchedThird: 5,
  stretchedFourth: 6.5,
  thereAndBack: 6.8,
};

/** Awkward places, those that are the same said in one breath. */
const awkwardPlaces = (facts: NoteFacts, part: Part): readonly Ranked[] =>
  saidAlike(facts.awkward, part, (p) => `${p.what} ${p.advice}`).map((places, i) => {
    const at = places.map((p) => p.from);
    const [{ what, advice, kind }] = places;
    const stated: Piece = {
      words: `${what} ${advice}`,
      claim: { kind: 'awkward', version: 'full', at, places },
    };
    return {
      subject: `awkward place ${i + 1}`,
      saying: saying(said`${barsSaid(facts, at)}: ${stated}`),
      worth: AWKWARD_WORTH[kind],
    };
  });

/** "bar 5 is bar 1 again": how one bar of the part is like an earlier one. */
const likeness = (facts: NoteFacts, bar: MappedBar): readonly Piece[] | null => {
  const { likeness: like } = bar;
  if (like.kind === 'new') return null;
  const other = facts.phrases.bars[like.as];
  if (other === undefined) return null;
  const at = [start(bar)];
  const steps = like.kind === 'moved' ? like.steps : 0;
  const claim = { kind: 'likeness', version: 'plain', at, likeness: like.kind, as: other, steps } as const;
  const [name, otherName] = [placeName(facts, bar), placeName(facts, other)];
  switch (like.kind) {
    case 'same':
      return [
        { words: `${name} is ${otherName} again${like.dressed ? ' with other ornaments' : ''}`, claim },
      ];
    case 'moved':
      return [{ words: `${name} is ${otherName} ${movedWords(like.steps)}`, claim }];
    case 'begins':
      return [{ words: `${name} begins as ${otherName}`, claim }];
    case 'ends':
      return [{ words: `${name} ends as ${otherName}`, claim }];
    default:
      return like satisfies never;
  }
};

/** Likenesses said of one part at most. Ours. */
const MOST_LIKENESSES = 4;

/** Which bars of the part the learner knows already; of those that are only alike the nearest kinds first. */
const known = (facts: NoteFacts, part: Part): readonly Ranked[] => {
  const own = facts.phrases.bars.filter((b) => b.part === part.label);
  const rank = { same: 0, moved: 1, begins: 2, ends: 3, new: 4 } as const;
  const chosen = own
    .filter((b) => b.likeness.kind !== 'new')
    .toSorted((a, b) => rank[a.likeness.kind] - rank[b.likeness.kind])
    .slice(0, MOST_LIKENESSES)
    .toSorted((a, b) => a.number - b.number);
  const items = chosen.flatMap((bar) => {
    const item = likeness(facts, bar);
    return item === null ? [] : [item];
  });
  if (items.length === 0) return [];
  return [{ subject: 'bars that come again', saying: saying(said`${joinedPieces(items)}.`), worth: 6.2 }];
};

/** What can make a bar harder than the others, and what to do about it. Common practice. */
const HARD: Readonly<Record<Exclude<keyof WorkParts, 'notes'>, string>> = {
  crossings: 'the bow crosses strings most there. Go through it on open strings first',
  fingers: 'it asks most of the fourth finger or of a stretch. Shape the hand before you start it',
  awkward: 'one finger has two places in a row there. Find them without the bow first',
  ornaments: 'the ornaments stand closest there. Leave them out until the notes run',
  bow: 'the bowing is busiest there. Say the strokes aloud before you play them',
};

/** How much harder than the part's bars on the whole a bar must be to be named. Ours. */
const CLEARLY_HARDER = 1.25;

/** The hardest bar of the part, and why. */
const hardest = (facts: NoteFacts, part: Part): readonly Ranked[] => {
  const own = facts.difficulty.bars.filter(
    (b) => b.part === part.label && facts.bars.get(barKey(b))?.bar.number != null,
  );
  const [first, ...others] = own;
  if (first === undefined || others.length < 2) return [];
  const mean = (of: (b: BarDifficulty) => number): number =>
    own.reduce((sum, b) => sum + of(b), 0) / own.length;
  const most = others.reduce((a, b) => (b.work > a.work ? b : a), first);
  if (most.work < CLEARLY_HARDER * mean((b) => b.work)) return [];
  const excess = (kind: keyof typeof HARD): number => most.parts[kind] - mean((b) => b.parts[kind]);
  const [cause, ...more] = Object.keys(HARD) as (keyof typeof HARD)[];
  if (cause === undefined) return [];
  const main = more.reduce((a, b) => (excess(b) > excess(a) ? b : a), cause);
  if (excess(main) <= 0) return [];
  const at = own.filter((b) => b.work > most.work - EQUAL_WORK).map(start);
  const { words } = barsSaid(facts, at);
  const bars: Piece = { words, claim: { kind: 'hardest', version: 'full', at } };
  const why = main === 'ornaments' ? ornamentsWhy(facts, most) : HARD[main];
  return [
    {
      subject: 'hardest bar',
      saying: saying(said`${bars} ${at.length > 1 ? 'are' : 'is'} the hardest of the part: ${why}.`),
      worth: 6.6,
    },
  ];
};

/** Bars whose work differs by less are equally hard. Ours. */
const EQUAL_WORK = 0.05;

/** One ornament on top of the notes, or several close together. */
const ornamentsWhy = (facts: NoteFacts, bar: BarDifficulty): string => {
  const [only, ...others] = facts.ornaments.filter((o) => barKey(o.ornament.address) === barKey(bar));
  if (only === undefined || others.length > 0) return HARD.ornaments;
  const { name } = ornamentWords(only.ornament.kind, facts.names, facts.words);
  return `the ${name} comes on top of running notes. Leave it out until they run`;
};

/** What is said of one part. */
export const partNotes = (facts: NoteFacts, part: Part): readonly Ranked[] => [
  ...known(facts, part),
  ...stayDowns(facts, part),
  ...awkwardPlaces(facts, part),
  ...hardest(facts, part),
];
