import { parseArgs } from "node:util";
import { type Command, WrongUse } from "./command";

const usage =
  "Use: crosscheck --labels FILE --notices FILE [--notices FILE ...] [--all] [--out FILE], or no files at all to check the registry.";

interface CrosscheckArguments {
  readonly labels: string | null;
  readonly notices: readonly string[];
  readonly all: boolean;
  readonly out: string;
}

function readArguments(args: readonly string[]): CrosscheckArguments {
  try {
    const { values } = parseArgs({
      args: [...args],
      options: {
        labels: { type: "string" },
        notices: { type: "string", multiple: true },
        all: { type: "boolean" },
        out: { type: "string" },
      },
    });
    return { labels: values.labels ?? null, notices: values.notices ?? [], all: values.all ?? false, out: values.out ?? "-" };
  } catch (error) {
    throw new WrongUse(`${error instanceof Error ? error.message.split(". ")[0] : "Wrong use"}. ${usage}`);
  }
}

/** `crosscheck`: labels against recall lists from files, or the registry against its loaded lists. */
export const crosscheckCommand: Command = async (args) => {
  const { labels, notices, all, out } = readArguments(args);
  if (labels !== null && notices.length > 0) {
    const { crosscheckFiles } = await import("./crosscheck-files");
    return crosscheckFiles({ labels, notices, all, out });
  }
  if (labels !== null || notices.length > 0) throw new WrongUse(`crosscheck needs both the labels and the notices. ${usage}`);
  const { crosscheckRegistry } = await import("./crosscheck-registry");
  return crosscheckRegistry();
};
