/** OWASP ASVS 4.0.3, V2.1.1 and V2.1.2: at least 12 characters, at least 64 and at most 128 permitted. */
export const shortestPassword = 12;
export const longestPassword = 128;

// Rows of the keyboard and of the alphabet that "long" passwords are often made of.
const runs = ["abcdefghijklmnopqrstuvwxyz", "01234567890123456789", "qwertyuiopasdfghjklzxcvbnm", "qwertzuiopasdfghjklyxcvbnm"];
const obvious = ["password", "passwort", "letmein", "welcome", "administrator", "admin", "platewarden", "changeme", "secret"];

function withoutObvious(password: string): string {
  return obvious.reduce((rest, word) => rest.replaceAll(word, ""), password.toLowerCase()).replace(/[^\p{L}]/gu, "");
}

/**
 * What is wrong with a password, as one sentence, or null when it will do. No rule about kinds of characters: NIST SP 800-63B-4
 * section 3.1.1.2 forbids those and asks for length and a check against the obvious.
 */
export function passwordProblem(password: string, person: { readonly email: string; readonly name: string }): string | null {
  const length = [...password].length;
  if (length < shortestPassword)
    return `The password has ${length} characters: take at least ${shortestPassword}, a few words for example.`;
  if (length > longestPassword) return `The password has ${length} characters: take at most ${longestPassword}.`;
  if (new Set(password).size < 5) return "The password repeats the same few characters: take different ones, a few words for example.";
  const folded = password.toLowerCase();
  if (runs.some((run) => run.includes(folded) || [...run].reverse().join("").includes(folded))) {
    return "The password is a run of the keyboard or the alphabet: take a few words instead.";
  }
  if (obvious.some((word) => folded.includes(word)) && withoutObvious(folded).length < 4) {
    return "The password is one of the first that are guessed: take a few words that have nothing to do with each other.";
  }
  const own = [person.email.split("@")[0] ?? "", ...person.name.split(/\s+/)]
    .map((part) => part.toLowerCase())
    .filter((part) => part.length > 3);
  const rest = own.reduce((left, part) => left.replaceAll(part, ""), folded);
  if (rest.length < folded.length && [...rest].length < 8)
    return "The password is mostly the name or the e-mail address: take other words.";
  return null;
}
