import { fingerprintOf, type Score } from '../../score/index.ts';
import { saying } from './claims.ts';
import type { NoteAnchor, OwnNote } from './ownNote.ts';
import type { Remark, TeachingNotes } from './remark.ts';

const own = (words: string, subject: string): Remark => ({
  subject,
  saying: saying([words]),
  first: true,
  own: true,
});

/** Own words take the place of a remark, or come after the others. */
const withWords = (remarks: readonly Remark[], { words, replaces }: OwnNote): readonly Remark[] => {
  const at = remarks.findIndex((r) => r.subject === replaces);
  if (at < 0) return [...remarks, own(words, replaces ?? 'own words')];
  return remarks.map((r, i) => (i === at ? own(words, r.subject) : r));
};

/** The bar that the anchor means now: its own while that sounds the same, else the nearest one that does. */
const barOf = (
  plain: Score,
  { part, bar, plain: print }: NoteAnchor,
): { part: string; bar: number } | null => {
  const bars = plain.parts.flatMap((p) =>
    p.bars.map((b, i) => ({ part: p.label, bar: i, print: fingerprintOf(b) })),
  );
  const there = bars.find((b) => b.part === part && b.bar === bar);
  if (there !== undefined && (print === undefined || there.print === print)) return there;
  const away = (b: (typeof bars)[number]): number => (b.part === part ? 0 : 1000) + Math.abs(b.bar - bar);
  return bars.filter((b) => b.print === print).toSorted((a, b) => away(a) - away(b))[0] ?? null;
};

const withOne = (notes: TeachingNotes, note: OwnNote, plain: Score): TeachingNotes => {
  const lost: TeachingNotes = { ...notes, placeless: [...notes.placeless, note.words] };
  switch (note.about) {
    case 'tune':
      return { ...notes, tune: withWords(notes.tune, note) };
    case 'part': {
      if (notes.parts.every((p) => p.label !== note.part)) return lost;
      const parts = notes.parts.map((p) =>
        p.label === note.part ? { ...p, remarks: withWords(p.remarks, note) } : p,
      );
      return { ...notes, parts };
    }
    case 'ornament': {
      if (notes.ornaments.every((o) => o.kind !== note.ornament)) return lost;
      const ornaments = notes.ornaments.map((o) => {
        if (o.kind !== note.ornament) return o;
        const kept = note.replaces === undefined ? o : { ...o, what: '', slowly: '' };
        return { ...kept, first: true, own: [...o.own, note.words] };
      });
      return { ...notes, ornaments };
    }
    case 'bar': {
      const place = barOf(plain, note.anchor);
      if (place === null) return lost;
      const bars = notes.bars.map((b) => {
        if (b.part !== place.part || b.bar !== place.bar) return b;
        const kept = note.replaces === undefined ? b.sayings : [];
        return { ...b, sameAs: null, sayings: [...kept, saying([note.words])] };
      });
      return { ...notes, bars };
    }
    default:
      return note satisfies never;
  }
};

/**
 * The notes with the teacher's own words among them.
 *
 * Words whose place is gone from the tune are never dropped: they come last, as `placeless`.
 * @param plain - the tune's plain version as it is now, by which bars are found again
 */
export const withOwnNotes = (
  notes: TeachingNotes,
  ownNotes: readonly OwnNote[],
  plain: Score,
): TeachingNotes => ownNotes.reduce((all, note) => withOne(all, note, plain), notes);
