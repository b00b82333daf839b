/** What a command gets and gives: arguments after its name, and the exit code: 0 done, 1 done with input set aside, 2 wrong use. */
export type Command = (args: readonly string[]) => Promise<0 | 1>;

/** Wrong use or unreadable input: printed as one sentence on standard error, exit code 2. */
export class WrongUse extends Error {
  override readonly name = "WrongUse";
}
