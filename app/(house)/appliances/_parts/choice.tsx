"use client";

import { type ReactNode, useRef, useState } from "react";
import { Button } from "@/app/_ui/button";
import { tickClass } from "@/app/_ui/field";
import { ChoiceBar } from "@/app/_ui/filter-bar";

/** A form around the table: counts its ticks and offers what can be done with the chosen rows. */
export function ChoiceForm({ action, fixed, children }: { action: string; fixed: readonly [string, string][]; children: ReactNode }) {
  const form = useRef<HTMLFormElement>(null);
  const [chosen, setChosen] = useState(0);
  const ticks = () => [...(form.current?.querySelectorAll<HTMLInputElement>('input[name="chosen"]') ?? [])];
  const count = () => setChosen(ticks().filter((tick) => tick.checked).length);
  const setAll = (on: boolean) => {
    for (const tick of ticks()) tick.checked = on;
    count();
  };
  return (
    <form ref={form} action={action} onChange={count}>
      {fixed.map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      {chosen > 0 && (
        <ChoiceBar>
          <b role="status">{chosen} chosen</b>
          <Button type="button" look="quiet" onClick={() => setAll(true)}>
            choose all on this page
          </Button>
          <Button>Export {chosen}</Button>
          <Button type="button" look="quiet" onClick={() => setAll(false)}>
            Put the choice aside
          </Button>
        </ChoiceBar>
      )}
      {children}
    </form>
  );
}

/** The tick in the head of the column, which ticks every row of the page. */
export function ChooseAll() {
  return (
    <input
      type="checkbox"
      className={tickClass}
      aria-label="choose all on this page"
      onChange={(event) => {
        const on = event.currentTarget.checked;
        const form = event.currentTarget.form;
        for (const tick of form?.querySelectorAll<HTMLInputElement>('input[name="chosen"]') ?? []) tick.checked = on;
      }}
    />
  );
}
