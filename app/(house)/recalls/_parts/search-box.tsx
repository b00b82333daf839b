"use client";

import Link from "next/link";
import { useRouter } from "next/navigation";
import { type KeyboardEvent, useEffect, useId, useState } from "react";
import { Button } from "@/app/_ui/button";
import type { Suggestion, SuggestionKind } from "@/lib/registry/suggestion-index";
import styles from "./search-box.module.css";

const kindWords: Readonly<Record<SuggestionKind, string>> = { maker: "Maker", model: "Model", notice: "Notice" };
const none: readonly Suggestion[] = [];

/** The suggestions for what is typed, the latest question's answer only; none while nothing is typed or the line is down. */
function useSuggestions(typed: string): readonly Suggestion[] {
  const [found, setFound] = useState<{ readonly typed: string; readonly suggestions: readonly Suggestion[] }>({
    typed: "",
    suggestions: none,
  });
  useEffect(() => {
    if (typed.trim().length < 2) return;
    const stop = new AbortController();
    const ask = async () => {
      const response = await fetch(`/recalls/suggest?${new URLSearchParams({ q: typed.slice(0, 80) })}`, { signal: stop.signal });
      if (response.ok) setFound({ typed, suggestions: ((await response.json()) as { suggestions: Suggestion[] }).suggestions });
    };
    ask().catch(() => undefined);
    return () => stop.abort();
  }, [typed]);
  return typed.trim().length < 2 ? none : found.suggestions;
}

/** One box over notices, makers and models. Without a script it is a plain search of the candidates. */
export function SearchBox() {
  const [typed, setTyped] = useState("");
  const [isOpen, setIsOpen] = useState(false);
  const [at, setAt] = useState(-1);
  const suggestions = useSuggestions(typed);
  const router = useRouter();
  const id = useId();
  const shown = isOpen && suggestions.length > 0;
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>) => {
    if (event.key === "Escape") setIsOpen(false);
    if (!shown) return;
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      setAt((now) => (now + (event.key === "ArrowDown" ? 1 : -1) + suggestions.length + 1) % (suggestions.length + 1));
    }
    const chosen = suggestions[at];
    if (event.key === "Enter" && chosen) {
      event.preventDefault();
      setIsOpen(false);
      router.push(chosen.href);
    }
  };
  return (
    <form
      action="/recalls"
      className={styles.box}
      onBlur={({ currentTarget, relatedTarget }) => setIsOpen(currentTarget.contains(relatedTarget))}
    >
      <label className={styles.label} htmlFor={`${id}-typed`}>
        Search notices and appliances
      </label>
      <div className={styles.line}>
        <input
          id={`${id}-typed`}
          className={styles.in}
          type="search"
          name="q"
          maxLength={200}
          autoComplete="off"
          spellCheck={false}
          placeholder="Maker, model, notice number; slips are forgiven"
          value={typed}
          onChange={({ target }) => {
            setTyped(target.value);
            setIsOpen(true);
            setAt(-1);
          }}
          onFocus={() => setIsOpen(true)}
          onKeyDown={onKeyDown}
          role="combobox"
          aria-expanded={shown}
          aria-controls={`${id}-list`}
          aria-autocomplete="list"
          aria-activedescendant={shown && at >= 0 && at < suggestions.length ? `${id}-${at}` : undefined}
        />
        <Button>Search candidates</Button>
      </div>
      <div id={`${id}-list`} role="listbox" aria-label="Suggestions" className={shown ? styles.list : "vh"}>
        {shown &&
          suggestions.map((suggestion, number) => (
            <Link
              key={`${suggestion.kind} ${suggestion.label} ${suggestion.href}`}
              id={`${id}-${number}`}
              role="option"
              aria-selected={number === at}
              tabIndex={-1}
              href={suggestion.href}
              className={styles.option}
              prefetch={false}
            >
              <span className={styles.kind}>{kindWords[suggestion.kind]}</span>
              <span className={styles.name}>{suggestion.label}</span>
              <span className={styles.detail}>{suggestion.detail}</span>
            </Link>
          ))}
      </div>
    </form>
  );
}
