"use client";

import { useRouter } from "next/navigation";
import { useEffect } from "react";

/** Asks the server for the page again from time to time, as long as it is looked at. */
export function KeepFresh({ everyMs }: { everyMs: number }) {
  const router = useRouter();
  useEffect(() => {
    const timer = setInterval(() => {
      if (document.visibilityState === "visible") router.refresh();
    }, everyMs);
    return () => clearInterval(timer);
  }, [router, everyMs]);
  return null;
}
