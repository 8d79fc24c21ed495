import { type Address, addressKey } from '../../score/index.ts';

const escapeCharacter = (character: string): string => `_x${(character.codePointAt(0) ?? 0).toString(16)}_`;

/** "/" becomes "-", ":" becomes "_", anything but letters, digits and dots its code: no two keys meet in one id. */
const idSafe = (key: string): string =>
  key
    .replace(/[^A-Za-z0-9./:]/gu, escapeCharacter)
    .replaceAll('/', '-')
    .replaceAll(':', '_');

/**
 * The xml:id of a note or rest: version and address, so that a player finds the drawn note of what it plays.
 *
 * The first pitch of a chord bears the address itself, the others ".t1" and so on; the chord around them adds ".c".
 * A note that paper needs two tied signs for has ".p1" at its second.
 * @param version - a name of letters and digits that begins with a letter ("bones")
 * @example elementIdOf('bones', { part: 'A', bar: 3, onset: wholeNotes(1, 4) }) // "bones-A-3-1_4"
 */
export const elementIdOf = (version: string, at: Address): string =>
  `${idSafe(version)}-${idSafe(addressKey(at))}`;

/** The xml:id of a drawn bar: the same in all versions, since they share bars. */
export const barIdOf = (part: string, bar: number): string => `bar-${idSafe(`${part}/${bar}`)}`;
