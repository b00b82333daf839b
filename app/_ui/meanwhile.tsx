"use client";

import { useEffect, useRef, useState } from "react";
import type { Meanwhile } from "@/lib/access/changed-meanwhile";
import { Button } from "./button";

type Control = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement;

function controlOf(form: HTMLFormElement, name: string): Control | null {
  const found = form.elements.namedItem(name);
  const isText = found instanceof HTMLTextAreaElement || found instanceof HTMLSelectElement;
  if (isText) return found;
  return found instanceof HTMLInputElement && found.type !== "checkbox" && found.type !== "radio" ? found : null;
}

function startOf(control: Control): string {
  if (!(control instanceof HTMLSelectElement)) return control.defaultValue;
  return [...control.options].find((option) => option.defaultSelected)?.value ?? control.options[0]?.value ?? "";
}

/** From now on the form counts as filled from what stands there now; what it shows stays. */
function startFrom(control: Control, text: string): void {
  const shown = control.value;
  if (control instanceof HTMLSelectElement) for (const option of control.options) option.defaultSelected = option.value === text;
  else control.defaultValue = text;
  control.value = shown;
}

const labelOf = (form: HTMLFormElement, name: string): string =>
  controlOf(form, name)?.labels?.[0]?.textContent?.trim() || name.replace(/([a-z])([A-Z])/g, "$1 $2").toLowerCase();

interface Line {
  readonly name: string;
  readonly label: string;
  readonly theirs: string;
  readonly yours: string | null;
}

/** What the form was filled from, where it says so; the page may have been drawn anew since. */
function baseOf(mark: Control | null): Readonly<Record<string, string>> {
  const told = JSON.parse(mark?.dataset["base"] ?? "{}") as Record<string, string | number | null>;
  return Object.fromEntries(Object.entries(told).map(([name, value]) => [name, value === null ? "" : String(value)]));
}

/** Takes over what only they changed, leaves what the person typed, and says both. */
function settle(form: HTMLFormElement, { mark, theirs }: Meanwhile): Line[] {
  const hidden = controlOf(form, mark.name);
  const base = baseOf(hidden);
  if (hidden) {
    hidden.value = mark.value;
    hidden.dataset["base"] = JSON.stringify(theirs);
  }
  return Object.entries(theirs).flatMap(([name, text]): Line[] => {
    const control = controlOf(form, name);
    const label = labelOf(form, name);
    if (control === null) return [{ name, label, theirs: text, yours: null }];
    const [was, yours] = [base[name] ?? startOf(control), control.value];
    startFrom(control, text);
    if (yours === text || was === text) return [];
    if (yours === was) control.value = text;
    return [{ name, label, theirs: text, yours: yours === was ? text : yours }];
  });
}

const quoted = (text: string) => (text === "" ? "nothing" : `“${text}”`);

/** Somebody else's change beside one's own: what only they changed is in the form now; what both changed is shown, to be chosen. */
export function MeanwhileWords({ form, meanwhile }: { form: HTMLFormElement | null; meanwhile: Meanwhile }) {
  const [lines, setLines] = useState<readonly Line[] | null>(null);
  const settled = useRef<Meanwhile | null>(null);
  useEffect(() => {
    // Once for each answer: settling again would take what was typed since for what was there before.
    if (!form || settled.current === meanwhile) return;
    settled.current = meanwhile;
    setLines(settle(form, meanwhile));
  }, [form, meanwhile]);
  const take = (line: Line) => {
    const control = form && controlOf(form, line.name);
    if (control) control.value = line.theirs;
  };
  const shown = lines ?? Object.entries(meanwhile.theirs).map(([name, theirs]): Line => ({ name, label: name, theirs, yours: null }));
  return (
    <ul>
      {meanwhile.others.map((words) => (
        <li key={words}>{words}</li>
      ))}
      {shown.map((line) => (
        <li key={line.name}>
          {line.label}: somebody else wrote <b>{quoted(line.theirs)}</b>
          {line.yours === line.theirs && ", which is in the form now"}
          {line.yours !== null && line.yours !== line.theirs && (
            <>
              , you wrote <b>{quoted(line.yours)}</b>, which stays in the form{" "}
              <Button type="button" look="quiet" onClick={() => take(line)}>
                Take theirs
              </Button>
            </>
          )}
        </li>
      ))}
    </ul>
  );
}
