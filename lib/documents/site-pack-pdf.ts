import { bytesOf, fitted, ink, inside, openPaper, type Paper, printable, wrapped, write } from "./pdf-paper";
import { drawFeet, Flow } from "./pdf-table";
import type { SitePack } from "./site-pack";

/** Says how far the drawing is; answers true when it is to stop. */
export type PackProgress = (done: number, total: number) => Promise<boolean>;

const rowsAtOnce = 100;

interface Cell {
  readonly label: string;
  readonly value: string;
  readonly isCode?: boolean;
}

/** The cells at the right of the title: what, for when, from what. */
function titleCells({ day, timeZone, head, sections }: SitePack): Cell[] {
  const count = (key: string) => sections.find((section) => section.key === key)?.rows.length ?? 0;
  const appliances = count("appliances_in_use") + count("appliances_out_of_use");
  return [
    { label: "State at the end of", value: `${day}, ${timeZone}` },
    {
      label: "Appliances, not retired",
      value: `${appliances.toLocaleString("en-US")}, of them ${count("appliances_out_of_use")} out of use`,
    },
    { label: "Open findings", value: String(count("open_findings")) },
    { label: "Recalls not settled", value: String(count("unread_recalls")) },
    { label: "Made from the record up to", value: head === null ? "nothing recorded" : head, isCode: true },
  ];
}

function drawTitleBlock(paper: Paper, cells: readonly Cell[], top: number): number {
  const x = inside.left + inside.width * 0.52;
  const width = inside.right - x;
  let y = top;
  paper.moveTo(x, y).lineTo(inside.right, y).lineWidth(0.6).strokeColor(ink.rule).stroke();
  for (const { label, value, isCode } of cells) {
    const [face, size] = isCode ? (["code", 7.5] as const) : (["text", 9] as const);
    write(paper, label, { x: x + 4, y: y + 3, face: "text", size: 7.5, colour: ink.third });
    paper.font(face, size);
    const lines = isCode ? codeLines(paper, value, width - 8) : wrapped(paper, printable(value), width - 8, 2);
    for (const [i, line] of lines.entries()) write(paper, line, { x: x + 4, y: y + 12.5 + i * 11, face, size });
    y += 16 + lines.length * 11;
    paper.moveTo(x, y).lineTo(inside.right, y).lineWidth(0.6).strokeColor(ink.rule).stroke();
  }
  return y;
}

/** A hash has no spaces: it is broken where the line is full. */
function codeLines(paper: Paper, text: string, width: number): string[] {
  const most = Math.max(8, Math.floor(width / paper.widthOfString("0")));
  return Array.from({ length: Math.ceil(text.length / most) }, (_, i) => text.slice(i * most, (i + 1) * most));
}

function drawTitle(flow: Flow, pack: SitePack): void {
  const { paper } = flow;
  const top = flow.y;
  write(paper, "SITE PACK", { x: inside.left, y: top, face: "plateStrong", size: 10, colour: ink.stamp });
  paper.font("strong", 24);
  const width = inside.width * 0.48;
  const lines = wrapped(paper, printable(pack.site), width, 3);
  for (const [i, line] of lines.entries()) write(paper, line, { x: inside.left, y: top + 14 + i * 28, face: "strong", size: 24 });
  let y = top + 22 + lines.length * 28;
  const lead = [
    "What was known of this site when the day ended.",
    "No match found does not mean not recalled, and no finding is no verdict that an appliance is safe. Local codes and the authority having jurisdiction come first.",
  ].join(" ");
  paper.font("text", 9);
  for (const line of wrapped(paper, lead, width, 6)) {
    write(paper, line, { x: inside.left, y, face: "text", size: 9, colour: ink.second });
    y += 12.5;
  }
  flow.y = Math.max(y, drawTitleBlock(paper, titleCells(pack), top));
}

/**
 * The pack as a PDF document. Nothing in it depends on the clock or on chance: the same pack gives the same bytes. Null when
 * `progress` asked to stop.
 */
export async function sitePackPdf(pack: SitePack, progress: PackProgress = async () => false): Promise<Buffer | null> {
  const identity = `${pack.day} ${pack.head ?? "no record"}`;
  const paper = await openPaper({ title: `${pack.site}, ${pack.day}`, subject: "Site pack", madeAt: pack.at, identity });
  const total = pack.sections.reduce((sum, { rows }) => sum + rows.length, 0);
  const flow = new Flow(paper);
  drawTitle(flow, pack);
  let done = 0;
  for (const section of pack.sections) {
    flow.begin(section);
    const draw = section.rows.length === 0 ? null : flow.heads(section);
    for (const row of section.rows) {
      draw?.(row);
      done += 1;
      if (done % rowsAtOnce === 0 && (await progress(done, total))) return null;
    }
  }
  if (await progress(total, total)) return null;
  drawFeet(paper, `${pack.site}, ${pack.day}. Record ${fitted(paper, pack.head ?? "empty", inside.width)}`);
  return bytesOf(paper);
}
