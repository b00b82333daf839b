import { describe, expect, it } from "vitest";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const read = (description: string) => understand(inventedNotice({ description }));
const windows = (description: string) =>
  read(description).serials.map((one) => ("pattern" in one ? one.pattern : `${one.from}..${one.to}`));

describe("cells that ran into the ends of a range", () => {
  const boilers =
    "The following are included:Model NumberSerial Number RangeQSC3 through QSC565249110 through 65382278QVG3_P, QVG4_P and QVG5 through QVG664870666 through 65385748; 97939433QCG3 through QCG535200197; 65283322 through 65858729";

  it("models and numbers are parted where both ends of the range have one shape", () => {
    expect(read(boilers).models.include).toEqual(["QSC3", "QSC4", "QSC5", "QVG3_P", "QVG4_P", "QVG5", "QVG6", "QCG3", "QCG4", "QCG5"]);
    expect(windows(boilers)).toEqual(["65249110..65382278", "64870666..65385748", "97939433", "35200197", "65283322..65858729"]);
  });

  it("so are a model before a range and the next range after it", () => {
    const cooktops =
      "These are included:Model NumberSerial NumbersQFGC3026SS1F00590006 through 1F110901553F53705075 through 3F01309052QFGC3626SS1F00590020 through 1F103903423F53703455 through 3F00806110LARKFIELD is printed on the front.";
    expect(read(cooktops).models.include).toEqual(["QFGC3026SS", "QFGC3626SS"]);
    expect(windows(cooktops)).toEqual([
      "1F00590006..1F11090155",
      "3F53705075..3F01309052",
      "1F00590020..1F10390342",
      "3F53703455..3F00806110",
    ]);
  });

  it("plain numbers behind models are as long as the ends of their ranges show", () => {
    const coverage = read("Model NumberDate CodesQX-2001201 through 1252QX-3001301 through 1340");
    expect(coverage.models.include).toEqual(["QX-200", "QX-300"]);
    expect(coverage.dateCodes).toEqual([
      { from: "1201", to: "1252", for: ["QX-200"] },
      { from: "1301", to: "1340", for: ["QX-300"] },
    ]);
  });

  it("ranges that repeat their letters are parted from the models before them", () => {
    const text = "Included:Model Numbers:Serial Numbers:QWB-10QW100001-QW100500QWB-20QW200001-QW200700";
    expect(read(text).models.include).toEqual(["QWB-10", "QWB-20"]);
    expect(windows(text)).toEqual(["QW100001..QW100500", "QW200001..QW200700"]);
  });

  it("what fits no shape stays whole and makes no window", () => {
    expect(windows("Model NumberSerial NumbersQFGC3026SS77 through 991F110901553F53705075")).not.toContain("77..99");
  });
});

describe("cells glued to others of their kind", () => {
  it("a product code ends where its check digit is right", () => {
    const coverage = read("Included:Model #Color UPCQV100BBlack012345678905QV100WWhite012345678912");
    expect(coverage.models.include).toEqual(["QV100B", "QV100W"]);
    expect(coverage.upcs).toEqual(["012345678905", "012345678912"]);
  });

  it("codes of one beginning are parted before each of them", () => {
    expect(read("The model numbers are:QT-100BQT-100WQT-200BQT-200W").models.include).toEqual(["QT-100B", "QT-100W", "QT-200B", "QT-200W"]);
  });

  it("product codes in four groups are no models", () => {
    const coverage = read("Model Number UPC Code QK-100 0 12345 67890 5 QK-200 0 12345 67891 2");
    expect(coverage.models.include).toEqual(["QK-100", "QK-200"]);
    expect(coverage.upcs).toEqual(["012345678905", "012345678912"]);
  });

  it("a month or a measure glued to a code is left to a person", () => {
    const glued = read("Included:Model:Manufacture Dates:KT-2001/2015 – 12/2016KT-3002/2015 – 03/2017");
    expect(glued.models.include).toEqual([]);
    expect(glued.spans.filter((span) => span.kind === "unread").map((span) => span.reads)).toEqual(["KT-2001/2015", "12/2016KT-3002/2015"]);
    expect(read("Item NumberDescriptionUPC12001Kettle 1.5L01234567890512002Kettle").models.include).toEqual(["12001"]);
  });
});

describe("headings of flattened tables", () => {
  it("two columns may be the two ends of a range, and product codes be printed with hyphens", () => {
    const text =
      "Brand Type Model UPC Serial Number Range Start Serial Number Range End Larkfield French Door QRMC2285AF 0-12345-67890-5 1K90974428 1K21374177 Ostrel French Door QRMC2295AS 0-12345-67891-2 1K91272383 1K21374610";
    expect(read(text).models.include).toEqual(["QRMC2285AF", "QRMC2295AS"]);
    expect(windows(text)).toEqual(["1K90974428..1K21374177", "1K91272383..1K21374610"]);
    expect(read(text).upcs).toEqual(["012345678905", "012345678912"]);
  });

  it("a remark in brackets belongs to the heading; a month of a year beside a code is its date", () => {
    const coverage = read("The codes are: Date Code (in Serial Number) Manufacturing Date 911XXXXXX Nov-19 026XXXXXX Jun-20");
    expect(coverage.dateCodes).toMatchObject([{ pattern: "911??????" }, { pattern: "026??????" }]);
    expect(coverage.made).toEqual([
      { from: "2019-11-01", to: "2019-11-30" },
      { from: "2020-06-01", to: "2020-06-30" },
    ]);
  });

  it("one column of beginnings and one of ends are told apart by the shape of their values", () => {
    const text =
      "These are included. SERIAL number STARTING withORSERIAL number ENDING withQW39, QW40, QY01JC, JE, JG, JJ, JL, JN, JP, JR, JT";
    expect(windows(text)).toEqual(["QW39*", "QW40*", "QY01*", "*JC", "*JE", "*JG", "*JJ", "*JL", "*JN", "*JP", "*JR", "*JT"]);
  });

  it("models of letters stand in a column of their own", () => {
    const text =
      "in the following models: Model Ventilation Configuration (Digit 9) KMD C, D, or E KMP C, D, or E SQG H, J, K, N, or P SQW H, J, K The brand name is on the front.";
    expect(read(text).models.include).toEqual(["KMD", "KMP", "SQG", "SQW"]);
  });

  it("models of three digits are listed beside names", () => {
    expect(read("Recalled units: Brand Model Larkfield 800, 801, 865, 866 Ostrel QUM20STM").models.include).toEqual([
      "800",
      "801",
      "865",
      "866",
      "QUM20STM",
    ]);
  });

  it("several models before one serial number are models all", () => {
    const text = "BRAND Model Numbers Serial number range Larkfield QHE33T QHP53T QHV53T QHX53T FD9209 QHE53T QHP65T FD9209 to FD9403";
    expect(read(text).models.include).toEqual(["QHE33T", "QHP53T", "QHV53T", "QHX53T", "QHE53T", "QHP65T"]);
    expect(windows(text)).toEqual(["FD9209", "FD9209..FD9403"]);
  });
});
