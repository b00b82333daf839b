import type { ProtectionClass } from "./rating";

/** Words for how many phases, by definition. */
const spelledPhases: Readonly<Record<string, number>> = { single: 1, one: 1, two: 2, three: 3 };

/** Class II by the square in a square, the words, or roman figures; `CLASS 2` is a kind of supply, not a protection class. */
export function protectionClassOf(text: string): ProtectionClass | null {
  if (
    /[\u29c8\u25a3\u56de\u22a1\u2341]|double[\s-]?insulat|square[\s-]in[\s-]square|\b(?:class|classe|(?:schutz)?klasse)\s?II\b/i.test(text)
  )
    return "II";
  if (/\b(?:class|classe|(?:schutz)?klasse)\s?III\b|\bSELV\b/i.test(text)) return "III";
  return /\b(?:class|classe|(?:schutz)?klasse)\s?I\b/i.test(text) ? "I" : null;
}

/** The IP code of IEC 60529 as printed, in capitals, such as `IPX4`. */
export function ipCodeOf(text: string): string | null {
  const found = /\bIP\s?([0-6X][0-9X](?:[A-D]|K)?)\b/i.exec(text)?.[1];
  return found === undefined ? null : `IP${found.toUpperCase()}`;
}

/** Number of phases: `1PH`, `3 phase`, `single phase`, `3~`, `1N~`. */
export function phasesOf(text: string): number | null {
  const figured =
    /(?<![\d.,A-Za-z])([123])\s*-?\s*(?:PH(?:ASE)?S?\b|\u00d8|\u03c6|N?~)/i.exec(text)?.[1] ??
    /\bPH(?:ASE)?S?\s*[:=]?\s*([123])\b/i.exec(text)?.[1];
  if (figured !== undefined) return Number(figured);
  const spelled = /\b(single|one|two|three)[\s-]?phase/i.exec(text)?.[1]?.toLowerCase();
  return spelled === undefined ? null : (spelledPhases[spelled] ?? null);
}

/** Horsepower as printed, fractions too: `1/2HP`, `1-1/2 H.P.`, `1.5 hp`. Mechanical output of a motor. */
export function horsepowerOf(text: string): number | null {
  const found = /(?<![\d.,/A-Za-z])(?:(\d+)[\s-]+)?(?:(\d+)\/(\d+)|(\d+(?:[.,]\d+)?))\s*-?\s*H\.?P\b\.?/i.exec(text);
  if (found === null) return null;
  const whole = Number(found[1] ?? 0);
  const part = found[4] === undefined ? Number(found[2]) / Number(found[3]) : Number(found[4].replace(",", "."));
  const horsepower = found[4] === undefined ? whole + part : part;
  return Number.isFinite(horsepower) && horsepower > 0 && horsepower <= 50 ? horsepower : null;
}
