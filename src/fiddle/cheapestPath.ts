/** A row of layers to choose one way from each, and what the choices cost. */
export interface Layers<Way> {
  /** The ways at each place. */
  readonly ways: readonly (readonly Way[])[];
  /** What a way costs by itself. */
  readonly own: (way: Way, at: number) => number;
  /** What it costs to come to a way from one of the place before. */
  readonly move: (from: Way, to: Way, at: number) => number;
}

interface Arrival<Way> {
  readonly way: Way;
  readonly cost: number;
  /** Index among the arrivals of the place before. */
  readonly from: number;
}

const arrivalAt = <Way>(
  { own, move }: Layers<Way>,
  way: Way,
  at: number,
  before: readonly Arrival<Way>[] | undefined,
): Arrival<Way> => {
  if (before === undefined) return { way, cost: own(way, at), from: 0 };
  let cost = Number.POSITIVE_INFINITY;
  let from = 0;
  before.forEach((arrival, i) => {
    const sum = arrival.cost + move(arrival.way, way, at);
    if (sum < cost) [cost, from] = [sum, i];
  });
  return { way, cost: cost + own(way, at), from };
};

/**
 * Which choice of one way from each layer costs least? (A shortest path; of equal ones the first.)
 * @returns one way a layer; empty where there are no layers
 */
export const cheapestPath = <Way>(layers: Layers<Way>): readonly Way[] => {
  const arrivals: (readonly Arrival<Way>[])[] = [];
  layers.ways.forEach((ways, at) => {
    arrivals.push(ways.map((way) => arrivalAt(layers, way, at, arrivals[at - 1])));
  });
  const last = arrivals.at(-1) ?? [];
  let index = last.reduce((best, a, i) => (a.cost < (last[best]?.cost ?? 0) ? i : best), 0);
  const path: Way[] = [];
  for (const layer of arrivals.toReversed()) {
    const arrival = layer[index];
    if (arrival === undefined) break;
    path.push(arrival.way);
    index = arrival.from;
  }
  return path.reverse();
};
