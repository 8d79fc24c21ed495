import { firstPieceOf, type Group, groupsOf } from './grouping.ts';
import { eventElement, graceGroup, graceNotesOf } from './noteElement.ts';
import type { Piece } from './pieces.ts';
import { element } from './xml.ts';

/** Where a group stands: engraving programs want a leading grace group outside the beam, and none inside a bare tuplet. */
interface Surroundings {
  readonly version: string;
  readonly inBeam: boolean;
  readonly inTuplet: boolean;
  /** The grace notes of its first piece stand before the group around it. */
  readonly gracesAreOutside: boolean;
}

const gracesBefore = (group: Group, at: Surroundings): readonly string[] => {
  const piece = firstPieceOf(group);
  if (piece === undefined || at.gracesAreOutside) return [];
  const notes = graceNotesOf(piece, at.version);
  return at.inTuplet && !at.inBeam ? notes : graceGroup(notes);
};

const groupElement = (group: Group, at: Surroundings): readonly string[] => {
  const graces = gracesBefore(group, at);
  if (group.kind === 'piece') return [...graces, eventElement(group.piece)];
  const inside = group.groups.flatMap((inner, i) =>
    groupElement(inner, {
      version: at.version,
      inBeam: at.inBeam || group.kind === 'beam',
      inTuplet: at.inTuplet || group.kind === 'tuplet',
      gracesAreOutside: i === 0,
    }),
  );
  if (group.kind === 'beam') return [...graces, element('beam', {}, inside)];
  const ratio = firstPieceOf(group)?.ratio;
  return [
    ...graces,
    element(
      'tuplet',
      {
        num: ratio?.actual,
        numbase: ratio?.normal,
        'num.format': 'count',
        ...(group.beamed ? { 'bracket.visible': 'false' } : {}),
      },
      inside,
    ),
  ];
};

/** What a bar's staff holds: its pieces in beams and tuplets, grace notes before them. */
export const layerElements = (pieces: readonly Piece[], version: string): readonly string[] =>
  groupsOf(pieces).flatMap((group) =>
    groupElement(group, { version, inBeam: false, inTuplet: false, gracesAreOutside: false }),
  );
