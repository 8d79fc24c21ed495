import type { TunesAnswer } from '../../protocol/index.ts';
import { server } from '../server.ts';

/** Lessons that are made at one go, before it is told how far it is. Ours. */
const AT_ONCE = 20;

/** How far it is. */
export interface MakingStep {
  readonly done: number;
  readonly of: number;
}

/**
 * Makes lessons of some tunes of a text, some at a time.
 * @param chosen - places among the tunes, from 0
 * @param teacher - stands at the foot of their sheets; empty: no name
 * @param told - after each step; false: stop here
 * @returns ids of the lessons that were made
 * @throws whatever the server refuses; what was made before stays
 */
export const makeSome = async (
  { abc, head, tunes }: TunesAnswer,
  chosen: readonly number[],
  teacher: string,
  told: (step: MakingStep) => boolean,
): Promise<readonly string[]> => {
  const ids: string[] = [];
  for (let at = 0; at < chosen.length; at += AT_ONCE) {
    const some = chosen.slice(at, at + AT_ONCE).flatMap((place) => tunes[place] ?? []);
    const text =
      abc.slice(0, head) + some.map(({ from, to }) => `${abc.slice(from, to).trimEnd()}\n\n`).join('');
    const made = await server.make({ abc: text, tunes: some.map((_, i) => i), teacher });
    ids.push(...made.ids);
    if (!told({ done: ids.length, of: chosen.length })) break;
  }
  return ids;
};
