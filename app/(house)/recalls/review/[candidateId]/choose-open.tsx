"use client";

import type { MouseEvent } from "react";
import { Button } from "@/app/_ui/button";

function tickOpen({ currentTarget }: MouseEvent<HTMLButtonElement>) {
  for (const box of currentTarget.form?.querySelectorAll<HTMLInputElement>("input[data-open]:not(:checked)") ?? []) box.click();
}

/** Ticks every identical appliance that is undecided, and leaves what was typed as it is. */
export function ChooseOpen() {
  return (
    <Button type="button" look="quiet" onClick={tickOpen}>
      choose all undecided
    </Button>
  );
}
