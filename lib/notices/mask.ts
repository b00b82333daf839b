/** What looks like an identifier and never is one. Each match is blanked, length kept. */
const noise: readonly RegExp[] = [
  // Markup left in the text.
  /<\/?[a-zA-Z][^<>]{0,300}>/g,
  // Web and e-mail addresses.
  /\bhttps?:\/\/[^\s"“”)]{1,500}/gi,
  /\bwww\.[^\s"“”),;]{1,300}/gi,
  /[\w.+-]{1,64}@[\w-]{1,64}(?:\.[\w-]{1,64}){1,4}/g,
  /\b[a-z][\w-]{1,60}\.(?:com|org|net|gov)\b(?:\/[^\s"“”),;]{0,200})?/gi,
  // Telephone numbers.
  /\(\d{3}\)\s?[\dA-Z]{3}[-.\s]?[\dA-Z]{4}\b/g,
  /\b1[-.\s]8\d{2}[-.\s]\d{3}[-.\s]\d{4}\b/g,
  /\b8(?:00|33|44|55|66|77|88)-[\dA-Z]{3}-[\dA-Z]{4}\b/g,
  /(?<=\b(?:at|call|calling|toll[- ]free|phone|telephone|fax)\s{1,3}(?:at\s{1,3})?)\d{3}[-.]\d{3}[-.]\d{4}\b/gi,
  // Prices and quantities.
  /\$\s?\d[\d,]{0,12}(?:\.\d{1,2})?(?:\s?(?:million|billion))?/gi,
  /\b\d{1,4}(?:\.\d+)?\s(?:million|billion|percent)\b/gi,
  /\b\d+(?:\.\d+)?%/g,
  // Numbers of earlier announcements.
  /\b(?:release|recall|press release|alert)\s{1,3}(?:number|no\.?|#)\s{0,3}#?\d{2}-?\d{3}\b/gi,
  // Standards and laws.
  /\b(?:ANSI|ASTM|UL|CSA|NFPA|IEC|ISO|ETL|EN|CFR|SVIA|CPSA|AHAM)(?:\s?\/\s?(?:ANSI|ASTM|UL|CSA|SVIA|ISEA|OPEI))?(?:\s{1,2}|(?<=ASTM|ANSI|IEC|ISO|CFR)-)[A-Z]?\d[\w.()/-]{0,20}/g,
  /\b\d{1,2}\s?(?:CFR|U\.S\.C\.)[^a-z]{0,30}/g,
  /\bFCC\s?ID:?\s?["“]?[A-Z0-9-]{3,20}/g,
];

const letterOrDigit = /[^\s]/g;

/** Dots for what a label prints between two of its lines: "DELUXE...ITEM LF-20...". */
const leftOut = /\.{3,}|\.(?: \.){2,}/g;

/** Blanks what is never an identifier; line breaks, tabs and no-break spaces become plain spaces, dots for left-out words one sign. The length stays. */
export function maskNoise(text: string): string {
  let masked = text.replace(/[\s\u00a0\u00ad\u200b\u2002\u2003\u2009]/g, " ").replace(/[®™©]/g, " ");
  masked = masked.replace(leftOut, (dots) => `…${" ".repeat(dots.length - 1)}`);
  for (const kind of noise) masked = masked.replace(kind, blank);
  return masked;
}

export function blank(text: string): string {
  return text.replace(letterOrDigit, " ");
}
