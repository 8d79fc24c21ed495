/** The largest number that a variable-length quantity may hold. Source: Standard MIDI Files 1.0, "Conventions". */
const LARGEST_QUANTITY = 0x0fff_ffff;

/**
 * The bytes of a variable-length quantity: seven bits each, most significant first, bit 7 set on all but the last.
 * @param value - a whole number, 0 to 0x0fffffff
 * @throws RangeError outside that
 * @see Source: Standard MIDI Files 1.0 (RP-001, 1996), "Conventions"
 */
export const variableLength = (value: number): readonly number[] => {
  if (!Number.isInteger(value) || value < 0 || value > LARGEST_QUANTITY) {
    throw new RangeError(`variableLength(${value}): needs a whole number from 0 to ${LARGEST_QUANTITY}`);
  }
  const bytes = [value & 0x7f];
  for (let rest = value >>> 7; rest > 0; rest >>>= 7) bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
};
