import { expect, test } from "vitest";
import { csvDownload } from "@/app/_server/csv-download";

async function* pagesOf(...pages: (string | number | null)[][][]) {
  yield* pages;
}

const download = (...pages: (string | number | null)[][][]) =>
  csvDownload({
    name: "things",
    now: new Date("2026-03-04T05:06:07Z"),
    columns: ["tag", "watts"],
    pages: pagesOf(...pages),
    cells: (row) => row,
  });

test("A download has its columns, every page's rows and the day in its name", async () => {
  const response = download([["PW-1", 1500]], [], [["PW-2", null]]);
  expect(response.headers.get("content-disposition")).toBe('attachment; filename="things-2026-03-04.csv"');
  expect(await response.text()).toBe("tag,watts\r\nPW-1,1500\r\nPW-2,\r\n");
});

test.each([
  ['=HYPERLINK("x")', `"'=HYPERLINK(""x"")"`],
  ["+1", `"'+1"`],
  ["-1+2", `"'-1+2"`],
  ["@SUM(A1)", `"'@SUM(A1)"`],
])("A spreadsheet does not run %s (OWASP, CSV Injection)", async (text, written) => {
  expect(await download([[text, -5]]).text()).toBe(`tag,watts\r\n${written},-5\r\n`);
});
