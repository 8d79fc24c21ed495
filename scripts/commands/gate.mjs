import { resolve } from 'node:path';
import { gates } from '../gates/index.mjs';
import { ROOT } from '../setup/places.mjs';
import { Stop } from '../setup/stop.mjs';

/** `node scripts/gate.mjs NAME [FOLDER]`: one gate alone, on this house or on another folder built like it. */
export const run = async ([name, folder]) => {
  const gate = gates.find((g) => g.name === name);
  if (gate === undefined) throw new Stop(`Which gate? One of: ${gates.map((g) => g.name).join(', ')}.`);
  const { complaints, skipped } = await gate.run(folder === undefined ? ROOT : resolve(folder));
  if (skipped !== undefined) console.log(`${name}: skipped: ${skipped}`);
  for (const complaint of complaints) console.log(complaint);
  return complaints.length > 0 ? 1 : 0;
};
