import { describe, expect, it } from "vitest";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const modelsOf = (description: string) => understand(inventedNotice({ description })).models;

const stated: [sentence: string, include: string[]][] = [
  ["This recall involves Larkfield kettles, model LF-220.", ["LF-220"]],
  ["The affected model numbers are 4255, 4255L, 4255W and 4271F.", ["4255", "4255L", "4255W", "4271F"]],
  ["Model numbers included in the recall are: 5132, 5345 and 5566.", ["5132", "5345", "5566"]],
  ["The model number, Q311, is printed on the packaging.", ["Q311"]],
  ['"Model No. NQ-G200" is printed on the back.', ["NQ-G200"]],
  ["“Model: C40PLUS-1500C” is printed on a label.", ["C40PLUS-1500C"]],
  ["SKU #444-560 and Made in Tennant are on the label.", ["444-560"]],
  ["The stock numbers are 26429 (spotlight) or 27017 (magnifying).", ["26429", "27017"]],
  ["The recalled Larkfield brewer (Model #IT400) is white.", ["IT400"]],
  ["The model numbers are M24109, M24110 (Queen and King) and M24207 (Twin).", ["M24109", "M24110", "M24207"]],
  ["Models include the 8-Light Pendant (model number Q18-776) and the 12-Light Pendant (model number Q19-776).", ["Q18-776", "Q19-776"]],
  ["The fans carry model numbers QB-102H, QS- 124J or QS-161J.", ["QB-102H", "QS-124J", "QS-161J"]],
  ["This recall involves irons with model numbers beginning with LK38U.", ["LK38U*"]],
  ["This recall involves the Larkfield QT500 and QT510 portable heaters sold in black.", ["QT500", "QT510"]],
  ["This recall involves Larkfield portable heaters (QT520, QT530) with a CR2032 battery.", ["QT520", "QT530"]],
  ["Model numbers QT100A through QT100D are included.", ["QT100A", "QT100B", "QT100C", "QT100D"]],
  ["Model numbers included in the recall are 61C, 61P, and unbranded model 94 units.", ["61C", "61P", "94"]],
  ["The model number is 04179-4 for the Larkfield brand and 18161-4 for the Tavish brand.", ["04179-4", "18161-4"]],
  ["Recalled units have a model number beginning with PB, AH or AE.", ["PB*", "AH*", "AE*"]],
  ["This recall involves fryers with model numbers ending in 7Q or 8Q.", ["*7Q", "*8Q"]],
  ["This recall involves models LF-10 through LF-13.", ["LF-10", "LF-11", "LF-12", "LF-13"]],
  ["This recall involves model numbers LF-1000 to LF-1999.", ["LF-1###"]],
  ["The model numbers are KP12xx and KP13xx.", ["KP12??", "KP13??"]],
  ["The model numbers are KP12XXXX and KP13XXXX, where XXXX represents any four digits.", ["KP12####", "KP13####"]],
  ["The model number is TX-4501. The last digit of the model number may vary.", ["TX-450#"]],
  ["The ranges have model numbers QB757BH/WH/CH and 22-48722/4/9.", ["QB757BH", "QB757WH", "QB757CH", "22-48722", "22-48724", "22-48729"]],
  ["The models are QF364G/BK/P, QF364G/BK/P/LP and QF364G/S/P.", ["QF364G/BK/P", "QF364G/BK/P/LP", "QF364G/S/P"]],
  ['"Model No.: QXP99/QXP93/QXP94" is printed on a label.', ["QXP99", "QXP93", "QXP94"]],
  ["The model is KT-600*. *The units have already been inspected at the factory.", ["KT-600"]],
  ['This recall involves the Larkfield "Corsair" model ceiling fans.', ["Corsair"]],
  ['The model name "Sierra 125U" is on the plate.', ["Sierra 125U"]],
  ["The cribs are “Corsair” (model #210), “Rest a While” (model #215) and “Tavira” (model #1900-350).", ["210", "215", "1900-350"]],
  ["Model names: Aria, Brio and Cedra. The name is on the front.", ["Aria", "Brio", "Cedra"]],
  ['This recall involves Larkfield "Plain" and "Plain-60" electric kettles.', ["Plain", "Plain-60"]],
  ['The brand name and "HQ10525" are etched on the underside of the kettles.', ["HQ10525"]],
];

const options: [sentence: string, include: string[]][] = [
  ["The model number is LF220B (or W).", ["LF220B", "LF220W"]],
  ["The models are QCF331A (T) (K).", ["QCF331AT", "QCF331AK"]],
  ["The kettles are model QET 401. Each has “Model: QET401” on the plate.", ["QET401"]],
  ["This recall involves model LF220 series kettles.", ["LF220*"]],
  ["This recall involves LF220 series kettles, model numbers LF220, LF220B.", ["LF220", "LF220B"]],
  ["A label on the bag reads: Larkfield, QSC334-AF.", ["QSC334-AF"]],
  ["Certain type 8215 fryers are included.", ["8215"]],
  ["The switch on QG12 kettle models can fail.", ["QG12"]],
];

const silent: [what: string, sentence: string][] = [
  ["sizes and ratings", "The 1,500-watt, 120V kettles hold 1.7 liters and measure about 9.5 by 6 inches."],
  ["quantities", "About 12,000 units in sets of 24 with 15 button cells are involved."],
  ["telephone numbers", "Call Larkfield at (800) 555-0142 or toll-free at 1-888-555-0100."],
  ["prices", "Sold for between $249 and $749 at model shops."],
  ["release numbers", "See release number 31-245 of the commission."],
  ["standards and laws", "The model violates ASTM F963 and 16 CFR 1261 and is listed to UL 1026."],
  ["radio identifiers", 'The FCC ID "2ANDL-XR3" is printed on the bottom.'],
  ["shop codes on parcels", '"X004P47MYP" is printed on the packaging.'],
  ["web addresses", "Visit www.larkfield.example/recall-2031A or https://larkfield.example/LF220 for the model list."],
  ["model years", "This recall involves model year 2029-2030 golf cars."],
  ["where the model number is", "The model number is printed on the rating plate below 2 screws."],
  ["models by size", "The kettles were sold in models measuring 36 inches, 48 inches and 60 inches wide."],
];

describe("models in prose", () => {
  it.each(stated)("%s", (sentence, include) => {
    expect(modelsOf(sentence)).toEqual({ stated: "listed", include, exclude: [] });
  });
});

describe("options, series and codes said to be read on the product", () => {
  it.each(options)("%s", (sentence, include) => {
    expect(modelsOf(sentence).include).toEqual(include);
  });
});

describe("what is never a model", () => {
  it.each(silent)("%s", (_what, sentence) => {
    expect(modelsOf(sentence)).toEqual({ stated: "none", include: [], exclude: [] });
  });
});

describe("a notice that covers a whole line", () => {
  it.each(["This recall involves all Larkfield kettles.", "All units are included in this recall."])("%s", (sentence) => {
    expect(modelsOf(sentence)).toEqual({ stated: "all", include: [], exclude: [] });
  });

  it("is listed where numbers are given as well", () => {
    expect(modelsOf("This recall involves all Larkfield kettles, model LF-220.").stated).toBe("listed");
  });
});

describe("codes in the title and product names", () => {
  it("stand for the models where the description gives none", () => {
    expect(understand(inventedNotice({ title: "Larkfield Recalls GV31 Portable Projectors Due to Fire Hazard" })).models.include).toEqual([
      "GV31",
    ]);
  });

  it("step back behind the description's", () => {
    const notice = inventedNotice({
      title: "Larkfield Recalls GV31 Projectors Due to Fire Hazard",
      description: "This recall involves projectors with model number GV31-B.",
    });
    expect(understand(notice).models.include).toEqual(["GV31-B"]);
  });
});

describe("the columns of a plain list", () => {
  it("are read by the same grammar", () => {
    const coverage = understand(
      inventedNotice({
        statedModels: "FW-10, FW-11 and FW-2xx",
        statedSerials: "A100 to A199",
        madeFrom: "2029",
        madeTo: "2030-06",
        upcs: ["4006381333931"],
      }),
    );
    expect(coverage.models.include).toEqual(["FW-10", "FW-11", "FW-2??"]);
    expect(coverage.serials).toEqual([{ from: "A100", to: "A199" }]);
    expect(coverage.made).toEqual([{ from: "2029-01-01", to: "2030-06-30" }]);
    expect(coverage.upcs).toEqual(["4006381333931"]);
  });
});

it("a battery's code behind the product's words is no model", () => {
  expect(modelsOf("This recall involves Larkfield lights with two CR2032 batteries.")).toEqual({
    stated: "none",
    include: [],
    exclude: [],
  });
});
