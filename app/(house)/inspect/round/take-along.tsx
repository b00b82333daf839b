"use client";

import { useState } from "react";
import { Button } from "@/app/_ui/button";
import { keepPages } from "../_parts/offline-pages";

/** Keeps the forms of this page's stops on the phone, for a cellar without a connection. */
export function TakeAlong({ addresses }: { addresses: readonly string[] }) {
  const [word, setWord] = useState("");
  const take = async () => {
    let missing = 0;
    for (const [place, address] of addresses.entries()) {
      setWord(`Keeping form ${place + 1} of ${addresses.length}…`);
      missing += await keepPages([address]);
    }
    const kept = addresses.length - missing;
    setWord(
      `${kept} of ${addresses.length} forms open on this phone without a connection.${missing > 0 ? " Try again for the others." : ""}`,
    );
  };
  return (
    <p className="noprint">
      <Button type="button" look="quiet" onClick={() => void take()}>
        Keep these forms on the phone
      </Button>{" "}
      <span role="status">{word}</span>
    </p>
  );
}
