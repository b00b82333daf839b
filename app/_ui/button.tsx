import Link from "next/link";
import type { ComponentProps, ReactNode } from "react";
import styles from "./button.module.css";

/** `main` is the one violet button of a task; the rest are `plain` (outlined) or `quiet` (underlined). Danger has no red button. */
export type ButtonLook = "main" | "plain" | "quiet";

/** The class of a button, for elements that are not drawn by `Button` or `ButtonLink`. */
export function buttonClass(look: ButtonLook = "plain", big = false): string {
  return [styles.btn, look === "plain" ? "" : styles[look], big ? styles.big : ""].filter(Boolean).join(" ");
}

export function Button({ look, big, ...rest }: { look?: ButtonLook; big?: boolean } & ComponentProps<"button">) {
  return <button type="submit" {...rest} className={buttonClass(look, big)} />;
}

export function ButtonLink({ look, big, ...rest }: { look?: ButtonLook; big?: boolean } & ComponentProps<typeof Link>) {
  return <Link {...rest} className={buttonClass(look, big)} />;
}

/** Buttons in a row that wraps. */
export function Acts({ children }: { children: ReactNode }) {
  return <div className={styles.acts}>{children}</div>;
}
