import { readAbc } from '../../notation/index.ts';
import type { Score } from '../../score/index.ts';

/** The tune of some ABC without its first fields. */
export const scoreOf = (abc: string): Score => {
  const [tune] = readAbc(`X:1\nT:Test\n${abc}`).tunes;
  if (tune === undefined) throw new Error('no tune');
  return tune.score;
};
