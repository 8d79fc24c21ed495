import { isSamePitch } from '../../music/index.ts';
import { addressKey } from '../../score/index.ts';
import type { MeiHands } from './meiDocument.ts';
import { pitchIdsOf } from './noteElement.ts';
import type { Piece } from './pieces.ts';

/** A curve or a bracket from one note to another, over bar lines and ends of lines. */
export interface Span {
  readonly kind: 'slur' | 'tie' | 'bracket';
  /** Bar and id of its first note. */
  readonly from: { readonly bar: number; readonly id: string };
  readonly to: { readonly bar: number; readonly id: string };
}

interface PlacedPiece {
  readonly bar: number;
  readonly piece: Piece;
}

const inOrder = (bars: readonly (readonly Piece[])[]): readonly PlacedPiece[] =>
  bars.flatMap((pieces, bar) => pieces.map((piece) => ({ bar, piece })));

/**
 * The slurs of a staff. A slur that ends and one that begins on the same note are two; unclosed ones are left out.
 *
 * Closing comes before opening, so `(cd(e)fg)` is c–e and e–g. Source: ABC standard 2.1, section 4.11.
 */
const slursOf = (pieces: readonly PlacedPiece[]): readonly Span[] => {
  const open: { bar: number; id: string }[] = [];
  const spans: Span[] = [];
  for (const { bar, piece } of pieces) {
    if (piece.event.kind === 'rest') continue;
    const here = { bar, id: piece.anchor };
    let unmet = 0;
    for (let i = 0; piece.last && i < piece.event.slurs.closes; i += 1) {
      const from = open.pop();
      if (from === undefined) unmet += 1;
      else if (from.id !== here.id) spans.push({ kind: 'slur', from, to: here });
    }
    for (let i = unmet; piece.first && i < piece.event.slurs.opens; i += 1) open.push(here);
  }
  return spans;
};

/** The ties of a staff: written ones between equal pitches, and those inside a length that takes two signs. */
const tiesOf = (pieces: readonly PlacedPiece[]): readonly Span[] =>
  pieces.flatMap(({ bar, piece }, i) => {
    const next = pieces[i + 1];
    if (next === undefined || piece.event.kind === 'rest' || next.piece.event.kind === 'rest') return [];
    if (piece.last && !piece.event.tiedToNext) return [];
    const [ids, nextIds] = [pitchIdsOf(piece), pitchIdsOf(next.piece)];
    const nextPitches = next.piece.event.pitches;
    return piece.event.pitches.flatMap((pitch, tone): Span[] => {
      const same = nextPitches.findIndex((p, k) => isSamePitch(p, pitch) && (k >= tone || !piece.last));
      const [from, to] = [ids[tone], nextIds[same]];
      if (from === undefined || to === undefined) return [];
      return [{ kind: 'tie', from: { bar, id: from }, to: { bar: next.bar, id: to } }];
    });
  });

/** The brackets of fingers that stay down. */
const bracketsOf = (pieces: readonly PlacedPiece[], hands: MeiHands | undefined): readonly Span[] => {
  const placeOf = new Map(
    pieces.filter(({ piece }) => piece.first).map((placed) => [addressKey(placed.piece.address), placed]),
  );
  return (hands?.stayDowns ?? []).flatMap(({ from, to }): Span[] => {
    const [first, last] = [placeOf.get(addressKey(from)), placeOf.get(addressKey(to))];
    if (first === undefined || last === undefined) return [];
    const end = (placed: PlacedPiece): Span['from'] => ({ bar: placed.bar, id: placed.piece.anchor });
    return [{ kind: 'bracket', from: end(first), to: end(last) }];
  });
};

/** All slurs, ties and brackets of a staff, by the bars they begin and end in. */
export const spansOf = (
  bars: readonly (readonly Piece[])[],
  hands: MeiHands | undefined,
): readonly Span[] => {
  const pieces = inOrder(bars);
  return [...slursOf(pieces), ...tiesOf(pieces), ...bracketsOf(pieces, hands)];
};
