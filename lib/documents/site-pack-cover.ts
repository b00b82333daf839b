import type { Flow } from "./pdf-flow";
import { ink, inside, type Paper, printable, type Style } from "./pdf-paper";
import { drawSignalWord } from "./pdf-plate";
import { wrapped } from "./pdf-wrap";
import type { SitePack } from "./site-pack";

const label: Style = { face: "text", size: 7.5, colour: ink.third };
const value: Style = { face: "text", size: 9.5 };
const small: Style = { face: "text", size: 8.5, colour: ink.second };

interface Cell {
  readonly label: string;
  readonly value: string;
  readonly code?: string;
}

export const grouped = (count: number): string => count.toLocaleString("en-US");

/** The cells at the right of the title: what, for when, from what. */
function titleCells({ day, timeZone, head, sections }: SitePack): Cell[] {
  const count = (key: string) => sections.find((section) => section.key === key)?.rows.length ?? 0;
  const out = count("appliances_out_of_use");
  return [
    { label: "Day, by the site's clock", value: `${day}, ${timeZone}` },
    { label: "Appliances, not retired", value: `${grouped(count("appliances_in_use") + out)}, of them ${grouped(out)} out of use` },
    { label: "Open findings", value: grouped(count("open_findings")) },
    { label: "Recalls not decided", value: grouped(count("undecided_recalls")) },
    head === null
      ? { label: "Made from the record", value: "nothing recorded yet" }
      : {
          label: "Made from the record up to",
          value: `entry ${grouped(Number(head.text.split(":")[0]))} of ${head.time}`,
          code: head.text,
        },
  ];
}

function drawTitleBlock(paper: Paper, cells: readonly Cell[], top: number): number {
  const x = inside.left + inside.width * 0.55;
  const width = inside.right - x - 4;
  const code: Style = { face: "code", size: 6.5, colour: ink.second };
  const rule = (y: number) => paper.rule(y, { weight: 0.6, colour: ink.rule, from: x });
  let y = top;
  rule(y);
  for (const cell of cells) {
    paper.write(cell.label, { x: x + 4, y: y + 9 }, label);
    const lines = [
      ...wrapped(paper, printable(cell.value), value, width).map((text) => ({ text, style: value })),
      ...wrapped(paper, cell.code ?? "", code, width).map((text) => ({ text, style: code })),
    ];
    for (const [i, { text, style }] of lines.entries()) paper.write(text, { x: x + 4, y: y + 21 + i * 11 }, style);
    y += 15 + lines.length * 11;
    rule(y);
  }
  return y;
}

/** The site's name as large as it fits on two lines; a very long one takes as many small ones as it needs. */
function nameLines(paper: Paper, site: string, width: number): { name: Style; lines: string[] } {
  const [large, small] = [26, 17].map((size): Style => ({ face: "strong", size })) as [Style, Style];
  const lines = wrapped(paper, site, large, width);
  return lines.length <= 2 ? { name: large, lines } : { name: small, lines: wrapped(paper, site, small, width) };
}

/** The first page's title: the site, what the pack is, and its title block. */
export function drawTitle(flow: Flow, pack: SitePack): void {
  const { paper } = flow;
  const [top, width] = [flow.y, inside.width * 0.5];
  const blockEnd = drawTitleBlock(paper, titleCells(pack), top);
  paper.write("SITE PACK", { x: inside.left, y: top + 10 }, { face: "plateStrong", size: 11, colour: ink.stamp });
  const { name, lines } = nameLines(paper, printable(pack.site), width);
  const step = name.size * 1.1;
  for (const [i, line] of lines.entries()) paper.write(line, { x: inside.left, y: top + 12 + name.size + i * step }, name);
  flow.y = top + 26 + lines.length * step;
  flow.paragraph(
    "What was known of this site when the day ended, as far as the record named at the right goes. The same data makes the same document, byte for byte.",
    { ...small, size: 9.5 },
    width,
  );
  flow.y = Math.max(flow.y, blockEnd) + 14;
}

const cautions: readonly { readonly word: string; readonly text: string }[] = [
  {
    word: "DANGER",
    text: "What is marked DANGER or recalled: stop using it, and unplug it if the plug is cool and dry. If it smells, smokes or is too hot to touch, leave it: switch the circuit off at the panel, get out and call the emergency number. Medical or life-safety equipment: call the person who depends on it first.",
  },
  {
    word: "WARNING",
    text: "Overloads, trips and voltages: call a licensed electrician. Do not reset a breaker again and again, and never fit a larger one.",
  },
];

/** What to do where it may hurt, and what the pack is not. */
export function drawCautions(flow: Flow): void {
  const { paper } = flow;
  const style: Style = { face: "text", size: 9 };
  const left = inside.left + 66;
  flow.rule(1.4, ink.text);
  flow.y += 8;
  for (const { word, text } of cautions) {
    drawSignalWord(paper, word, { x: inside.left, y: flow.y + 10 }, 10);
    for (const line of wrapped(paper, text, style, inside.right - left)) {
      paper.write(line, { x: left, y: flow.y + 9 }, style);
      flow.y += 12.5;
    }
    flow.y += 5;
  }
  flow.paragraph(
    "Screening aids, not an inspection certificate: no match found does not mean not recalled, and no finding is no verdict that an appliance is safe. Local codes, the authority having jurisdiction and a licensed electrician come first.",
    style,
  );
  flow.y += 8;
}

const contentRow = 13.5;
const [asOfAt, rowsAt] = [inside.left + 176, inside.right - 50];

/** The table of contents, without its pages: these are known only when everything is drawn. */
export function drawContents(flow: Flow, { sections }: SitePack): (pages: readonly number[]) => void {
  const { paper } = flow;
  flow.rule(1.4, ink.text);
  flow.y += 14;
  for (const [text, x] of [["Contents", inside.left] as const, ["Known as of", asOfAt] as const])
    paper.write(text, { x, y: flow.y }, label);
  paper.writeBefore("Rows", { x: rowsAt, y: flow.y }, label);
  paper.writeBefore("Page", { x: inside.right, y: flow.y }, label);
  flow.y += 4;
  flow.rule(0.6, ink.text);
  const lines: number[] = [];
  for (const { head, knownAsOf, rows } of sections) {
    const y = flow.y + 10;
    paper.write(head, { x: inside.left, y }, { face: "strong", size: 9 });
    paper.write(knownAsOf, { x: asOfAt, y }, small);
    paper.writeBefore(grouped(rows.length), { x: rowsAt, y }, { face: "text", size: 9 });
    lines.push(y);
    flow.y += contentRow;
    flow.rule(0.4, ink.hair);
  }
  flow.y += 3;
  flow.paragraph("As they are now: as they stood when the pack was made; their earlier state is not kept. Every row is printed.", {
    ...small,
    size: 8,
  });
  return (pages) => {
    paper.pdf.switchToPage(0);
    for (const [i, y] of lines.entries()) paper.writeBefore(String(pages[i] ?? ""), { x: inside.right, y }, { face: "text", size: 9 });
  };
}
