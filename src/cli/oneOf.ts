import { UsageError } from './io.ts';

/**
 * The one of `choices` that an option names.
 * @param option - command and option, "pack: --paper"
 * @throws UsageError when it names none of them
 */
export const oneOf = <T extends string>(option: string, text: string, choices: readonly T[]): T => {
  const found = choices.find((c) => c === text);
  if (found === undefined) throw new UsageError(`${option} takes ${choices.join(', ')}, not "${text}"`);
  return found;
};
