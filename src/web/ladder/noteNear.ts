import type { LadderLine } from '../workroom/messages.ts';

/** A note is pointed at within so many drawing units of the middle of its head, which lies so far from its left edge. */
const NEAR = 330;
const HALF_HEAD = 120;

/** The note that a touch on a line is nearest to: of the staff that it is on; null: none is near. */
export const noteNear = (event: MouseEvent, line: LadderLine): string | null => {
  const element = (event.target as Element).closest('.line');
  // A key that presses the bar's button points at no note.
  if (element === null || event.detail === 0) return null;
  const box = element.getBoundingClientRect();
  const x = ((event.clientX - box.left) / box.width) * line.width;
  const y = ((event.clientY - box.top) / box.height) * (line.height + line.above) - line.above;
  const middle = (staff: LadderLine['staves'][0]): number => Math.abs((staff.top + staff.bottom) / 2 - y);
  const staff = line.staves.toSorted((a, b) => middle(a) - middle(b))[0];
  const near = (staff?.notes ?? [])
    .map(([key, left]) => ({ key, off: Math.abs(left + HALF_HEAD - x) }))
    .toSorted((a, b) => a.off - b.off)[0];
  return near !== undefined && near.off < NEAR ? near.key : null;
};
