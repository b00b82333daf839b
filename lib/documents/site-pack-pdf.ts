import { breathe } from "@/lib/registry/breathe";
import { drawFeet, Flow } from "./pdf-flow";
import { ink, inside, Paper, printable } from "./pdf-paper";
import { Table } from "./pdf-table";
import { rowsOf, type SitePack } from "./site-pack";
import { drawCautions, drawContents, drawTitle, grouped } from "./site-pack-cover";
import type { PackSection } from "./site-pack-section";

/** Says how many rows are drawn; answers true when the drawing is to stop. */
export type PackProgress = (done: number, total: number) => Promise<boolean>;

const rowsAtOnce = 100;
/** So many rows take about a hundredth of a second; then other requests have their turn. */
const rowsABreath = 20;

/** The head of a section with its count and its note; at least two rows stand below it on the page. */
function drawHead(flow: Flow, { head, note, empty, rows }: PackSection): void {
  const { paper } = flow;
  flow.repeat(null);
  flow.room(110);
  flow.y += 14;
  flow.rule(1.4, ink.text);
  flow.y += 18;
  paper.write(head, { x: inside.left, y: flow.y }, { face: "strong", size: 13 });
  const count = `${grouped(rows.length)} ${rows.length === 1 ? "row" : "rows"}`;
  paper.writeBefore(count, { x: inside.right, y: flow.y }, { face: "text", size: 10, colour: ink.second });
  flow.y += 7;
  if (note !== null) flow.paragraph(note, { face: "text", size: 8.5, colour: ink.second });
  if (rows.length === 0) flow.paragraph(empty, { face: "text", size: 9.5 });
  flow.y += 4;
}

/** Draws every section and returns the pages they begin on; null when it was stopped. */
async function drawSections(flow: Flow, pack: SitePack, progress: PackProgress): Promise<number[] | null> {
  const total = rowsOf(pack);
  const pages: number[] = [];
  let done = 0;
  for (const section of pack.sections) {
    drawHead(flow, section);
    pages.push(flow.page);
    flow.paper.pdf.outline.addItem(section.head);
    const table = section.rows.length === 0 ? null : new Table(flow, section);
    for (const row of section.rows) {
      table?.row(row);
      done += 1;
      if (done % rowsABreath === 0) await breathe();
      if (done % rowsAtOnce === 0 && (await progress(done, total))) return null;
    }
  }
  return (await progress(total, total)) ? null : pages;
}

function drawMissingSigns(flow: Flow): void {
  const { size } = flow.paper.missing;
  if (size === 0) return;
  flow.repeat(null);
  flow.y += 10;
  const signs = size === 1 ? "One sign" : `${grouped(size)} different signs`;
  flow.paragraph(`${signs} of other scripts could not be printed and stand as question marks; the tables have them.`, {
    ...{ face: "text", size: 8.5, colour: ink.second },
  });
}

/**
 * The pack as a PDF document. Nothing in it depends on the clock or on chance: the same pack gives the same bytes. Null when
 * `progress` asked to stop.
 */
export async function sitePackPdf(
  pack: SitePack,
  progress: PackProgress = async () => false,
): Promise<{ bytes: Buffer; pages: number } | null> {
  const { site, day, head, at } = pack;
  const paper = await Paper.open({
    title: `${site}, ${day}`,
    subject: "Site pack",
    madeAt: head?.at ?? at,
    identity: `${day} ${head?.text ?? "no record"}`,
  });
  const flow = new Flow(paper);
  drawTitle(flow, pack);
  drawCautions(flow);
  const writePages = drawContents(flow, pack);
  const pages = await drawSections(flow, pack, progress);
  if (pages === null) return null;
  drawMissingSigns(flow);
  writePages(pages);
  drawFeet(paper, `Site pack, ${printable(site)}, ${day}, record ${head?.text.slice(0, 20) ?? "empty"}`);
  return paper.end();
}
