import { expect, it } from "vitest";
import { openCsvFile } from "@/lib/registry/csv-source";

const megabyte = 2 ** 20;
const fileMegabytes = 200;
/** Well under the file's own length, and far under what its rows would take if they were kept. */
const mostGrowthMegabytes = 150;

it(`reads a file of ${fileMegabytes} MB in memory that does not grow with it`, async () => {
  const line = `T-000001,Alder House,0101,Keldamar,HT-1500C,${"label text ".repeat(40)}\n`;
  const piece = Buffer.from(line.repeat(Math.floor((256 * 1024) / line.length)));
  const pieces = Math.ceil((fileMegabytes * megabyte) / piece.length);
  async function* source() {
    yield Buffer.from("tag,site,unit,brand,model,label_text\n");
    for (let at = 0; at < pieces; at++) yield piece;
  }
  const before = process.memoryUsage().rss;
  let peak = before;
  let rows = 0;
  for await (const batch of (await openCsvFile(source())).batches) {
    rows += batch.length;
    peak = Math.max(peak, process.memoryUsage().rss);
  }
  expect(rows).toBe((pieces * piece.length) / line.length);
  expect((peak - before) / megabyte).toBeLessThan(mostGrowthMegabytes);
}, 60_000);
