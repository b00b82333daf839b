/** Sentences that say the whole product line is covered. */
const all =
  /\b(?:involves|includes|covers|affects|is\s+for|are)\s+all\b|\ball\s+(?:models|model\s+numbers|units)\b[^.]{0,80}\b(?:included|recalled|affected|involved|subject|part)\b|^\s*All\s|\.\s+All\s[^.]{0,120}\b(?:are|is)\s+(?:included|recalled|affected|being|part|subject)/i;

export function saysAll(clean: string): boolean {
  return all.test(clean);
}
