"use client";

import { type ReactNode, useState } from "react";
import { Acts, Button } from "@/app/_ui/button";
import { AreaField, FieldColumns, FieldStack, FormWord, SelectField, TextField } from "@/app/_ui/field";
import { useKeptForm } from "@/app/_ui/use-kept-form";
import { type StatementKind, statementKinds } from "@/lib/notices/statement";
import { comparedWords } from "../_parts/compared-words";
import { addStatement } from "./actions";

const kindWords: Readonly<Record<StatementKind, string>> = {
  model: "a model it covers",
  excluded: "a model it leaves out",
  all_models: "all models of the product",
  serial: "serial numbers",
  dateCode: "date codes",
  made: "dates of manufacture",
  upc: "a product number (UPC)",
  brand: "a maker or brand",
  product: "a kind of product",
};

const orders = ["YYWW", "WWYY", "YYMM", "MMYY", "YYYYMM", "YYYYWW", "YYDDD", "beginning"];

export interface AddFormProps {
  readonly noticeId: string;
  readonly noticeHash: string;
  /** The words it rests on as JSON; empty where there are none. */
  readonly passage: string;
  readonly syntax: string;
  /** Begins the main field, such as with the chosen words. */
  readonly text: string;
  /** The form's id, made where the page is. */
  readonly children: ReactNode;
}

type Errors = Readonly<Record<string, string>>;

/** A statement that a person adds to what the notice covers. */
export function AddForm({ noticeId, noticeHash, passage, syntax, text, children }: AddFormProps) {
  const { result, isPending, form } = useKeptForm(addStatement);
  const [kind, setKind] = useState<StatementKind>("model");
  const errors = result && !result.ok ? result.fields : {};
  const isElsewhere = Object.keys(errors).length === 0;
  return (
    <form {...form}>
      {children}
      <input type="hidden" name="noticeId" value={noticeId} />
      <input type="hidden" name="noticeHash" value={noticeHash} />
      <input type="hidden" name="passage" value={passage} />
      <FieldStack>
        <SelectField
          label="The notice also covers, or leaves out"
          name="kind"
          value={kind}
          onChange={({ target }) => setKind(target.value as StatementKind)}
        >
          {statementKinds.map((name) => (
            <option key={name} value={name}>
              {kindWords[name]}
            </option>
          ))}
        </SelectField>
        <StatementFields kind={kind} errors={errors} syntax={syntax} text={text} />
        <AreaField
          label="How you know it"
          name="reason"
          rows={2}
          required
          maxLength={2000}
          hint="Kept with the correction and shown to everybody, such as: stands in the picture at the regulator's site."
          error={errors["reason"]}
        />
        <Acts>
          <Button look="main" disabled={isPending}>
            {isPending ? "Comparing…" : "Add it and compare again"}
          </Button>
        </Acts>
        <FormWord
          problem={result && !result.ok && isElsewhere ? result.problem : undefined}
          done={result?.ok ? comparedWords(result) : undefined}
        />
      </FieldStack>
    </form>
  );
}

function StatementFields(props: { kind: StatementKind; errors: Errors; syntax: string; text: string }) {
  const { kind, errors, syntax, text } = props;
  if (kind === "all_models") return <p className="soft">Every model of the product and maker, whatever models are listed.</p>;
  if (kind === "made") return <Bounds errors={errors} hint="A day as YYYY-MM-DD; leave one empty where the notice sets no such end." />;
  if (kind === "serial" || kind === "dateCode")
    return (
      <>
        <TextField label="Pattern" name="text" code maxLength={120} defaultValue={text} hint={syntax} error={errors["text"]} />
        <Bounds errors={errors} hint="Or the first and the last value as printed; leave one empty where the notice sets no such end." />
        <TextField
          label="How the values run"
          name="as"
          list="orders"
          maxLength={20}
          hint="Only where the notice says so: YYWW is year and week; “beginning” where these are the first characters only."
          error={errors["as"]}
        />
        <datalist id="orders">
          {orders.map((order) => (
            <option key={order} value={order} />
          ))}
        </datalist>
        <Models errors={errors} />
      </>
    );
  const isCode = kind === "model" || kind === "excluded" || kind === "upc";
  const hint = kind === "upc" ? "8, 12, 13 or 14 digits below the bar code." : isCode ? syntax : "As it stands on appliances.";
  const label = kind === "upc" ? "Product number" : isCode ? "Model" : kind === "brand" ? "Maker or brand" : "Kind of product";
  return (
    <TextField label={label} name="text" code={isCode} required maxLength={120} defaultValue={text} hint={hint} error={errors["text"]} />
  );
}

function Bounds({ errors, hint }: { errors: Errors; hint: string }) {
  return (
    <>
      <FieldColumns>
        <TextField label="From" name="from" code maxLength={120} error={errors["from"]} />
        <TextField label="To" name="to" code maxLength={120} error={errors["to"]} />
      </FieldColumns>
      <p className="small soft">{hint}</p>
    </>
  );
}

function Models({ errors }: { errors: Errors }) {
  return (
    <TextField
      label="Only for these models"
      name="models"
      code
      maxLength={1000}
      hint="Separated by commas; leave it empty where it holds for all that the notice covers."
      error={errors["models"]}
    />
  );
}
