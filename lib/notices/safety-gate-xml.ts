import { SaxesParser } from "saxes";

export interface XmlReport {
  /** The alerts, each with its fields by element name. */
  readonly alerts: readonly Readonly<Record<string, string>>[];
  /** Fields of the report itself, such as `report_date`. */
  readonly head: Readonly<Record<string, string>>;
  /** What is said of each report, where the document is the list of them. */
  readonly reports: readonly Readonly<Record<string, string>>[];
}

interface Frame {
  readonly name: string;
  readonly fields: Record<string, string>;
  text: string;
  hasParts: boolean;
}

const deepest = 32;
/** An alert by its element's name, or by having a number. */
const isAlert = ({ name, fields, hasParts }: Frame) =>
  hasParts && (/^(?:notifications?|alert)$/.test(name) || Object.hasOwn(fields, "caseNumber"));

/** Reads the XML of a weekly report or of the list of reports; a sentence where it is no whole XML document. */
export function readSafetyGateXml(text: string): XmlReport | { readonly problem: string } {
  const alerts: Readonly<Record<string, string>>[] = [];
  const reports: Readonly<Record<string, string>>[] = [];
  const open: Frame[] = [];
  let head: Readonly<Record<string, string>> = {};
  const parser = new SaxesParser();
  const closed = (frame: Frame) => {
    const above = open.at(-1);
    if (isAlert(frame)) alerts.push(frame.fields);
    else if (frame.name === "weeklyReport") reports.push(frame.fields);
    else if (above === undefined) head = frame.fields;
    else if (!frame.hasParts) addField(above.fields, frame.name, frame.text.trim());
    else for (const [name, value] of Object.entries(frame.fields)) addField(above.fields, name, value);
    if (above) above.hasParts = true;
  };
  parser.on("opentag", ({ name }) => {
    if (open.length >= deepest) throw new Error("its elements are nested too deep");
    open.push({ name: name.replace(/^.*:/, ""), fields: {}, text: "", hasParts: false });
  });
  const take = (piece: string) => {
    const frame = open.at(-1);
    if (frame) frame.text += piece;
  };
  parser.on("text", take);
  parser.on("cdata", take);
  parser.on("closetag", () => {
    const frame = open.pop();
    if (frame) closed(frame);
  });
  parser.on("error", (error) => {
    throw error;
  });
  try {
    parser.write(text).close();
  } catch (error) {
    return { problem: error instanceof Error ? error.message : String(error) };
  }
  return { alerts, head, reports };
}

/** Several elements of one name are parts of one field. */
function addField(fields: Record<string, string>, name: string, value: string): void {
  if (name === "__proto__") return;
  const before = fields[name] ?? "";
  if (before === "") fields[name] = value;
  else if (value !== "") fields[name] = `${before}; ${value}`;
}
