import Link from "next/link";
import { Button } from "./button";
import styles from "./masthead.module.css";
import { type Theme, themes } from "./theme";

type FormWork = (form: FormData) => Promise<void>;

/** Who is signed in, the theme, and the way out; opens without a script. */
export function PersonPanel(props: { name: string; role: string; theme: Theme; chooseTheme: FormWork; signOut: FormWork }) {
  const { name, role, theme, chooseTheme, signOut } = props;
  return (
    <div className={styles.who}>
      <button type="button" className={styles.whoButton} popoverTarget="person" aria-label={`${name}, ${role}: theme and sign out`}>
        <span className={styles.long}>
          <b>{name}</b>
          <span className={styles.role}>, {role}</span>
        </span>
        <span className={styles.short}>{initials(name)}</span>
      </button>
      <div id="person" popover="auto" className={styles.panel}>
        <p>
          Signed in as <b>{name}</b>, {role}.
        </p>
        <p>
          <Link href="/account">Your account</Link>
        </p>
        <form action={chooseTheme}>
          <fieldset>
            <legend>Light or dark</legend>
            {themes.map((choice) => (
              <button key={choice} type="submit" name="theme" value={choice} aria-pressed={choice === theme}>
                {choice}
              </button>
            ))}
          </fieldset>
        </form>
        <form action={signOut}>
          <Button>Sign out</Button>
        </form>
      </div>
    </div>
  );
}

function initials(name: string): string {
  const words = name.split(/\s+/).filter(Boolean);
  return [words[0], words.length > 1 ? words.at(-1) : ""].map((word) => word?.[0] ?? "").join("");
}
