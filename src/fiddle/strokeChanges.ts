import { type Address, addressKey, type Bow, type Note, placedEvents, type Score } from '../score/index.ts';

/** Something written anew about the strokes: a slur from one note to another, or a direction. */
export type StrokeChange =
  | { readonly kind: 'slur'; readonly at: Address; readonly to: Address }
  | { readonly kind: 'bow'; readonly at: Address; readonly bow: Bow };

/** The score with every note that has one changed. */
export const mapNotes = (score: Score, change: (note: Note, at: Address) => Note): Score => ({
  ...score,
  parts: score.parts.map((part) => ({
    ...part,
    bars: part.bars.map((bar, index) => ({
      ...bar,
      events: placedEvents(bar).map(({ event, onset }) =>
        event.kind === 'rest' ? event : change(event, { part: part.label, bar: index, onset }),
      ),
    })),
  })),
});

/** The score with these slurs and directions written into it, beside what is there. */
export const withStrokeChanges = (score: Score, changes: readonly StrokeChange[]): Score => {
  if (changes.length === 0) return score;
  const opens = new Set<string>();
  const closes = new Set<string>();
  const bows = new Map<string, Bow>();
  for (const change of changes) {
    if (change.kind === 'bow') bows.set(addressKey(change.at), change.bow);
    else {
      opens.add(addressKey(change.at));
      closes.add(addressKey(change.to));
    }
  }
  return mapNotes(score, (note, at) => {
    const key = addressKey(at);
    return {
      ...note,
      slurs: {
        opens: note.slurs.opens + (opens.has(key) ? 1 : 0),
        closes: note.slurs.closes + (closes.has(key) ? 1 : 0),
      },
      bow: bows.get(key) ?? note.bow,
    };
  });
};
