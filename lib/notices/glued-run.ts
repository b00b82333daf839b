/** Longest printed value that is believed to be one. */
const longest = 32;

/**
 * Whether a value is rather several that ran into each other and could not be told apart: a run of letters and digits too
 * long for one, or one in which a second code begins (`QBS07HJQP21BH90KM`). Hyphens, blanks and wildcards make long codes
 * readable, so those are none.
 */
export function isGluedRun(text: string): boolean {
  if (text.length > 3 * longest) return true;
  // A long number, and then a code with a hyphen: the next row's.
  if (/\d{7,20}[A-Z]{1,4}-\d{2}/.test(text)) return true;
  // A month glued to a code, and a measure to a number that is too long for one.
  if (/[A-Z].*\d\/(?:19|20)\d{2}$|^\d{1,2}\/(?:19|20)\d{2}[A-Z]/.test(text)) return true;
  if (/^\d\.\d[A-Z]\d{8,}|^\d[A-Z]\d{12,}/.test(text)) return true;
  if (/[-\s_*?#@./]|X{3}|x{3}/.test(text)) return false;
  return text.length > longest || (text.length >= 16 && /^[A-Z]{2,}\d{2,}[A-Z]+\d*[A-Z]{2,}\d{2,}/.test(text));
}
