"use client";

import { type KeyboardEvent, type ReactNode, useEffect, useId, useRef } from "react";
import styles from "./marked-notice.module.css";

const marksIn = (place: HTMLElement | null) => [...(place?.querySelectorAll<HTMLElement>("[data-mark]") ?? [])];

/** Which mark a key leads to, from the one that has the focus; null for other keys. */
function nextMark(key: string, at: number, marks: readonly HTMLElement[]): HTMLElement | null | undefined {
  if (key === "ArrowRight" || key === "ArrowDown") return marks[at + 1] ?? marks[0];
  if (key === "ArrowLeft" || key === "ArrowUp") return marks[at - 1] ?? marks.at(-1);
  if (key === "Home") return marks[0];
  return key === "End" ? marks.at(-1) : null;
}

/**
 * The keyboard's way through the marks of a notice: one stop for the Tab key, from there the arrow keys go from mark to mark, Home and
 * End to the first and last. Without a script each mark is a stop of its own.
 */
export function MarkPath({ marks: count, mayCorrect, children }: { marks: number; mayCorrect: boolean; children: ReactNode }) {
  const place = useRef<HTMLElement>(null);
  const hint = useId();
  useEffect(() => {
    marksIn(place.current).forEach((mark, at) => {
      mark.tabIndex = at === 0 ? 0 : -1;
    });
  });
  const move = (event: KeyboardEvent<HTMLElement>) => {
    const marks = marksIn(place.current);
    const at = marks.indexOf(event.target as HTMLElement);
    const next = at < 0 || event.altKey || event.ctrlKey || event.metaKey ? null : nextMark(event.key, at, marks);
    if (!next) return;
    event.preventDefault();
    for (const mark of marks) mark.tabIndex = mark === next ? 0 : -1;
    next.focus();
  };
  return (
    <section ref={place} onKeyDown={move} aria-label="The notice with its marks" aria-describedby={hint}>
      <p id={hint} className={`small soft noprint ${styles.path}`}>
        {count} {count === 1 ? "mark" : "marks"}. Tab reaches them, the arrow keys go from mark to mark
        {mayCorrect ? ", Enter corrects what was read there." : "."}
      </p>
      {children}
    </section>
  );
}
