import type { Piece } from './pieces.ts';

/** How pieces lie in beams and tuplets. */
export type Group =
  | { readonly kind: 'piece'; readonly piece: Piece }
  | { readonly kind: 'beam'; readonly groups: readonly Group[] }
  | { readonly kind: 'tuplet'; readonly groups: readonly Group[]; readonly beamed: boolean };

interface Run {
  readonly from: number;
  readonly to: number;
}

/** A beam begins and ends on a note: rests at its ends are left out. */
const trimmed = (pieces: readonly Piece[], run: Run): Run => {
  let { from, to } = run;
  while (from < to && pieces[from]?.event.kind === 'rest') from += 1;
  while (to > from && pieces[to - 1]?.event.kind === 'rest') to -= 1;
  return { from, to };
};

const tupletRuns = (pieces: readonly Piece[]): readonly Run[] => {
  const runs: { from: number; to: number }[] = [];
  pieces.forEach((piece, i) => {
    const last = runs.at(-1);
    if (piece.tuplet === null) return;
    if (last !== undefined && last.to === i && pieces[i - 1]?.tuplet === piece.tuplet) last.to = i + 1;
    else runs.push({ from: i, to: i + 1 });
  });
  return runs;
};

const crosses = (a: Run, b: Run): boolean =>
  a.from < b.to &&
  b.from < a.to &&
  !(a.from >= b.from && a.to <= b.to) &&
  !(b.from >= a.from && b.to <= a.to);

/** Beams of two or more; one that would reach half into a tuplet is broken at the tuplet's edges. */
const beamRuns = (pieces: readonly Piece[], tuplets: readonly Run[]): readonly Run[] => {
  const runs: Run[] = [];
  let from = 0;
  pieces.forEach((piece, i) => {
    if (piece.beamed) return;
    const whole = trimmed(pieces, { from, to: i + 1 });
    from = i + 1;
    const edges = tuplets.filter((t) => crosses(whole, t)).flatMap((t) => [t.from, t.to]);
    const cuts = edges.filter((e) => e > whole.from && e < whole.to).sort((a, b) => a - b);
    let at = whole.from;
    for (const cut of [...cuts, whole.to]) {
      runs.push(trimmed(pieces, { from: at, to: cut }));
      at = cut;
    }
  });
  return runs.filter((r) => r.to - r.from > 1);
};

/** Groups a bar's pieces; where beam and tuplet are the same notes, the tuplet is the outer one. */
export const groupsOf = (pieces: readonly Piece[]): readonly Group[] => {
  const tuplets = tupletRuns(pieces);
  const beams = beamRuns(pieces, tuplets);
  const inside = (run: Run, outer: readonly ('beam' | 'tuplet')[]): readonly Group[] => {
    const groups: Group[] = [];
    for (let i = run.from; i < run.to; ) {
      const tuplet = outer.includes('tuplet')
        ? undefined
        : tuplets.find((t) => t.from === i && t.to <= run.to);
      const beam = outer.includes('beam') ? undefined : beams.find((b) => b.from === i && b.to <= run.to);
      const beamIsOuter = beam !== undefined && (tuplet === undefined || beam.to > tuplet.to);
      if (beam !== undefined && beamIsOuter) {
        groups.push({ kind: 'beam', groups: inside(beam, [...outer, 'beam']) });
        i = beam.to;
      } else if (tuplet !== undefined) {
        const beamed = outer.includes('beam') || (beam?.from === tuplet.from && beam.to === tuplet.to);
        groups.push({ kind: 'tuplet', groups: inside(tuplet, [...outer, 'tuplet']), beamed });
        i = tuplet.to;
      } else {
        const piece = pieces[i];
        if (piece !== undefined) groups.push({ kind: 'piece', piece });
        i += 1;
      }
    }
    return groups;
  };
  return inside({ from: 0, to: pieces.length }, []);
};

/** The first piece of a group. */
export const firstPieceOf = (group: Group): Piece | undefined => {
  if (group.kind === 'piece') return group.piece;
  const first = group.groups[0];
  return first === undefined ? undefined : firstPieceOf(first);
};
