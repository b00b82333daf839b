/** What one alert says, by what it means; empty where it says nothing. */
export type AlertField =
  | "number"
  | "reference"
  | "url"
  | "date"
  | "category"
  | "product"
  | "name"
  | "brand"
  | "models"
  | "batch"
  | "barcode"
  | "batchOrBarcode"
  | "description"
  | "made"
  | "riskType"
  | "level"
  | "risk"
  | "measures"
  | "origin"
  | "notifying"
  | "recallPage"
  | "trader";

export type Alert = Readonly<Record<AlertField, string>>;

/**
 * Names of the fields, in small letters and digits only, as the XML of the weekly report and the tables of the web site print them.
 *
 * Confirmed by samples of the weekly report's XML that public material quotes, not by the publisher's own description: caseNumber,
 * reference, category, product, brand, name, type_numberOfModel, batchNumber, barcode, batchNumber_barcode, description, riskType,
 * danger, measures, level, notifyingCountry, countryOfOrigin, URLrecall; report_date of the report; and weeklyReport with
 * publicationDate and URL in the list of reports. From memory: productionDates, onlineTrader, and all headings of the tables
 * ("Alert number", "Type / number of model", "Batch number / Barcode", "Risk type" ...).
 */
const names: Readonly<Record<AlertField, readonly string[]>> = {
  number: ["casenumber", "alertnumber", "notificationnumber", "referencenumber"],
  reference: ["reference"],
  url: ["alerturl", "linktoalert", "url", "link"],
  date: ["publicationdate", "dateofpublication", "alertdate", "dateofalert", "date", "reportdate"],
  category: ["category", "productcategory"],
  product: ["product"],
  name: ["name", "productname", "nameofproduct"],
  brand: ["brand", "brands"],
  models: ["typenumberofmodel", "typeofmodel", "numberofmodel", "modelnumber", "model", "typenumber"],
  batch: ["batchnumber", "batch", "lotnumber"],
  barcode: ["barcode", "barcodes", "gtin", "ean"],
  batchOrBarcode: ["batchnumberbarcode"],
  description: ["description", "productdescription"],
  made: ["productiondates", "productiondate", "dateofproduction"],
  riskType: ["risktype", "risktypes", "typeofrisk"],
  level: ["level", "risklevel", "levelofrisk"],
  risk: ["danger", "risk", "riskdescription", "descriptionofrisk"],
  measures: ["measures", "measurestaken", "measuresadoptedbynotifyingcountry", "measurestakenbyauthorities", "compulsorymeasures"],
  origin: ["countryoforigin", "origin"],
  notifying: ["notifyingcountry", "alertsubmittedby", "country"],
  recallPage: ["urlrecall", "recallurl", "companyrecallpage", "linktocompanyrecallpage"],
  trader: ["onlinetrader", "soldonline", "productssoldonline"],
};

const fieldOfName: ReadonlyMap<string, AlertField> = new Map(
  Object.entries(names).flatMap(([field, spellings]) => spellings.map((name) => [name, field as AlertField] as const)),
);

/** A heading or element name without what its writers add at will. */
export function alertFieldName(name: string): string {
  return name.toLowerCase().replace(/[^a-z0-9]/g, "");
}

/** Whether a table's headings are those of alerts: what is alerted, the kind of risk, and an identifier of alert or product. */
export function isAlertHeader(header: readonly string[]): boolean {
  const fields = new Set(header.map((name) => fieldOfName.get(alertFieldName(name))));
  const identifies = fields.has("models") || fields.has("batchOrBarcode") || fields.has("batch") || fields.has("barcode");
  return fields.has("product") && fields.has("riskType") && (fields.has("number") || fields.has("reference")) && identifies;
}

/** What says that nothing is known. */
const unknown = /^(?:unknown|none|no brand|unbranded|n\/?a|not (?:known|available|specified|stated|applicable)|[-–—.?/\s]+)\.?$/i;

/** The alert's fields by what they mean; a field that only says that nothing is known is empty. */
export function readAlert(fields: Readonly<Record<string, string>>, plain: (text: string) => string): Alert {
  const alert = Object.fromEntries(Object.keys(names).map((field) => [field, ""])) as Record<AlertField, string>;
  for (const [name, value] of Object.entries(fields)) {
    const field = fieldOfName.get(alertFieldName(name));
    const text = plain(value);
    if (field !== undefined && alert[field] === "" && !unknown.test(text)) alert[field] = text;
  }
  return alert;
}
