import { toNumber } from '../core/index.ts';
import type { ScreenLine } from '../engrave/index.ts';
import type { ChordPlan } from '../harmony/index.ts';
import type { HandSign, StaySign } from '../lesson/index.ts';
import { printedChord } from '../music/index.ts';
import type { PlacedBar } from '../score/index.ts';

/** What may stand under and over the music. */
export interface Rows {
  readonly bows: boolean;
  readonly fingers: boolean;
  readonly names: boolean;
  readonly chords: boolean;
  readonly stays: boolean;
}

/** Heights in drawing units, of which a staff has 720. Ours, looked at on phones. */
const ROW = 390;
const SIZE = 340;
const CHORD_ROW = 420;
const CHORD_SIZE = 390;
/** Middle of a note's head from its left edge. */
const HEAD = 120;
/** Ends of the line under a finger that stays. */
const STAY_HOOK = 110;

/** What a line needs besides itself. */
export interface RowSource {
  readonly hands: ReadonlyMap<string, HandSign>;
  readonly stays: readonly StaySign[];
  readonly chords: ChordPlan;
  readonly bars: readonly Pick<PlacedBar, 'part' | 'index'>[];
  readonly rows: Rows;
}

/** What is drawn into a line: the room that it takes over and under it, and the drawing. */
export interface LineRows {
  readonly above: number;
  readonly below: number;
  readonly svg: string;
}

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const asText = (text: string): string => text.replace(/[&<>"]/g, (c) => ENTITIES[c] ?? c);

const word = (x: number, y: number, text: string, kind: string): string =>
  `<text x="${Math.round(x)}" y="${Math.round(y)}" class="mark ${kind}" text-anchor="middle" font-size="${kind === 'chord' ? CHORD_SIZE : SIZE}">${asText(text)}</text>`;

/** A down-bow and an up-bow as players write them, in lines. */
const bowSign = (x: number, y: number, bow: 'down' | 'up'): string => {
  const [w, h] = [95, 195];
  const d =
    bow === 'down'
      ? `M${x - w} ${y}v${-h}h${2 * w}v${h}`
      : `M${x - w * 0.8} ${y - h}l${w * 0.8} ${h}l${w * 0.8} ${-h}`;
  return `<path class="mark bow" d="${d}" fill="none" stroke-width="34"/>`;
};

const onsetOf = (key: string): number => {
  const [num = 0, den = 1] = (key.split('/')[2] ?? '0').split(':').map(Number);
  return num / den;
};

/** Where in a bar an onset lies: on its note, or between its neighbours. */
const xAt = (line: ScreenLine, at: number, prefix: string, onset: number): number => {
  const points = line.staves
    .flatMap((s) => s.notes)
    .filter(([key]) => key.startsWith(prefix))
    .map(([key, x]) => ({ onset: onsetOf(key), x: x + HEAD }))
    .toSorted((a, b) => a.onset - b.onset);
  const edges = line.bars[at];
  const before = points.findLast((p) => p.onset <= onset + 1e-9);
  const after = points.find((p) => p.onset > onset + 1e-9) ?? {
    onset: onset + 0.5,
    x: edges?.right ?? line.width,
  };
  if (before === undefined) return points[0]?.x ?? edges?.left ?? 0;
  return (
    before.x + ((onset - before.onset) / Math.max(1e-9, after.onset - before.onset)) * (after.x - before.x)
  );
};

const chordsIn = (line: ScreenLine, { chords, bars }: RowSource): string => {
  let told = '';
  return bars
    .slice(line.from, line.to)
    .flatMap(({ part, index }, i) =>
      chords
        .filter((c) => c.part === part && c.bar === index)
        .flatMap(({ onset, chord }) => {
          const name = printedChord(chord);
          if (name === told) return [];
          told = name;
          const x = xAt(line, i, `${part}/${index}/`, toNumber(onset));
          return [word(x, -CHORD_ROW * 0.25, name, 'chord')];
        }),
    )
    .join('');
};

/** Lines under the notes through which a finger stays, its number before them; one that goes on beyond the line is open. */
const staysIn = (line: ScreenLine, { stays, hands }: RowSource, y: number): string => {
  const order = [...hands.keys()];
  const places = (line.staves.at(-1)?.notes ?? []).map(([key, x]) => ({
    at: order.indexOf(key),
    x: x + HEAD,
  }));
  return stays
    .map((stay) => {
      const [from, to] = [order.indexOf(stay.from), order.indexOf(stay.to)];
      const under = places.filter(({ at }) => at >= from && at <= to);
      const [first, last] = [under[0], under.at(-1)];
      if (first === undefined || last === undefined) return '';
      const start = first.at === from ? `v${-STAY_HOOK}v${STAY_HOOK}` : '';
      const end = last.at === to ? `v${-STAY_HOOK}` : '';
      const number = first.at === from ? word(first.x - HEAD, y, String(stay.finger), 'stay') : '';
      const [left, right] = [first.at === from ? first.x : 0, last.at === to ? last.x : line.width];
      const d = `M${left} ${y}${start}H${Math.max(right, left + HEAD)}${end}`;
      return `${number}<path class="mark stay" d="${d}" fill="none" stroke-width="${stay.across ? 52 : 30}"/>`;
    })
    .join('');
};

/** The rows of one line: chords over it, under it bows, fingers and names, each at its note. */
export const lineRows = (line: ScreenLine, source: RowSource): LineRows => {
  const { rows, hands } = source;
  const notes = line.staves.at(-1)?.notes ?? [];
  let below = 0;
  let svg = rows.chords ? chordsIn(line, source) : '';
  const row = (
    draw: (hand: HandSign, x: number, y: number, before: HandSign | undefined) => string,
  ): void => {
    below += ROW;
    const y = line.height + below - ROW * 0.2;
    let before: HandSign | undefined;
    for (const [key, x] of notes) {
      const hand = hands.get(key);
      if (hand === undefined) continue;
      svg += draw(hand, x + HEAD, y, before);
      before = hand;
    }
  };
  if (rows.bows) row((hand, x, y) => (hand.bow === null ? '' : bowSign(x, y - 20, hand.bow)));
  if (rows.fingers) {
    row((hand, x, y) => word(x, y, String(hand.finger), 'finger'));
    row((hand, x, y, before) =>
      before?.string === hand.string ? '' : word(x, y, hand.string.charAt(0), 'string'),
    );
  }
  if (rows.stays) {
    below += ROW;
    svg += staysIn(line, source, line.height + below - ROW * 0.3);
  }
  if (rows.names) row((hand, x, y) => word(x, y, hand.name, 'name'));
  return { above: rows.chords ? CHORD_ROW : 0, below: below === 0 ? 0 : below + ROW * 0.5, svg };
};
