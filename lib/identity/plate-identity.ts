/** What a rating plate's text says of the appliance's identity; `null` where it does not say. */
export interface PlateIdentity {
  readonly brand: string | null;
  readonly model: string | null;
  readonly serial: string | null;
  readonly dateCode: string | null;
}

/** Ends a value: a separator between fields, or the next field's name or rating. */
const nextField =
  /\s*(?:[|;\n\r]|,\s|\s{2,}|$|\b(?:MODEL|MOD|M\/N|S\/N|SN|SERIAL|SER|DATE|MFG|TYPE|INPUT|RATED|RATING|AC|DC|UPC|CLASS|IP\d\d|MADE)\b|\s\d+(?:[.,]\d+)?(?:\s*[-/]\s*\d+(?:[.,]\d+)?)?\s*(?:V|VAC|VDC|HZ|W|KW|A|AMPS|HP|VA)(?:~|\b))/i;

const number = String.raw`(?:\s*(?:NUMBER|NR|NO|N°|#)(?![A-Z]))?\.?\s*[:#=]?\s*`;
const fieldNames = {
  serial: new RegExp(String.raw`(?:^|[^A-Z0-9])(?:S\s?/\s?N|SERIAL|SER\.?(?=\s*NO)|SN(?=\s*[:#]))${number}`, "i"),
  dateCode: new RegExp(String.raw`(?:^|[^A-Z0-9])(?:DATE\s+CODE|D/C|DATECODE|MFG\.?\s+CODE|BATCH(?:\s+CODE)?)${number}`, "i"),
  model: new RegExp(
    String.raw`(?:^|[^A-Z0-9])(?:MODEL(?:\s*/\s*TYPE)?|MOD\.?(?=\s*(?:NO|#|:|\d))|M\s?/\s?N|CAT\.?(?=\s*(?:NO|#|:))|ITEM(?=\s*(?:NO|#|:)))${number}`,
    "i",
  ),
} as const;

function valueAfter(text: string, name: RegExp): string | null {
  const found = name.exec(text);
  if (!found) return null;
  const rest = text.slice(found.index + found[0].length);
  const end = nextField.exec(rest);
  const value = rest.slice(0, end ? end.index : rest.length).trim();
  return value === "" ? null : value;
}

const typeName = new RegExp(String.raw`(?:^|[|;\n\r]\s*)TYPE${number}`, "i");

/** `TYPE X-200` names the model where nothing else does, but `TYPE A` is a lamp's bulb and `TYPE I` a class. */
function typeAsModel(text: string): string | null {
  const value = valueAfter(text, typeName);
  return value !== null && /\d/.test(value) && value.length >= 3 ? value : null;
}

const rating = /\d\s*(?:V|VAC|VDC|HZ|W|KW|A|AMPS|HP|VA)(?:~|\b)|[~⎓]/i;
const named = /^(?:MODEL|MOD\b|M\/N|TYPE|S\/N|SERIAL|SER\b|DATE|INPUT|RATED|CLASS|CAUTION|WARNING|MADE|UPC|AC\b|DC\b|MAX\b|ITEM|CAT)/i;

/** The first field of a plate in fields is the maker's name, when it is neither a named field nor a rating. */
function brandOf(text: string): string | null {
  if (!/[|;\n\r]/.test(text)) return null;
  const fields = text.split(/[|;\n\r]+/).map((field) => field.trim());
  const first = fields[0] ?? "";
  if (fields.length < 2 || first === "" || first.length > 40) return null;
  return named.test(first) || rating.test(first) || !/\p{L}{2}/u.test(first) ? null : first;
}

/** A plate without any of these words names no field, which one look tells. */
const mayNameFields = /MOD|[MSDT]\s?\/\s?[NC]|SER|SN|DATE|MFG|BATCH|CAT|ITEM|TYPE/i;

/** Reads maker, model, serial number and date code off a plate's text, such as `Acme | MODEL X-1 | S/N 4 | DATE CODE 2416 | 120V~`. */
export function readPlateIdentity(labelText: string): PlateIdentity {
  const text = labelText.normalize("NFKC");
  if (!mayNameFields.test(text)) return { brand: brandOf(text), model: null, serial: null, dateCode: null };
  return {
    brand: brandOf(text),
    model: valueAfter(text, fieldNames.model) ?? typeAsModel(text),
    serial: valueAfter(text, fieldNames.serial),
    dateCode: valueAfter(text, fieldNames.dateCode),
  };
}
