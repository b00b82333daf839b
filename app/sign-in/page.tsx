import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { currentActor } from "@/app/_server/session";
import { GeneralCautions } from "@/app/_ui/cautions";
import { Wordmark } from "@/app/_ui/masthead";
import { SignInForm } from "./form";
import styles from "./sign-in.module.css";
import { safeWayBack } from "./way-back";

export const metadata: Metadata = { title: "Sign in" };

export default async function SignInPage({ searchParams }: { searchParams: Promise<{ back?: string | string[] }> }) {
  const { back } = await searchParams;
  const wayBack = safeWayBack(back);
  if (await currentActor()) redirect(wayBack);
  return (
    <main className={styles.page}>
      <div className={styles.sheet}>
        <header className={styles.head}>
          <Wordmark />
        </header>
        <h1>Sign in</h1>
        <p className={styles.lead}>What is plugged in, what its plate allows, and what must be done about it.</p>
        <SignInForm back={wayBack} />
        <p className={styles.small}>No account? An administrator of your organisation adds people; there is no sign-up.</p>
      </div>
      <footer className={styles.foot}>
        <GeneralCautions />
      </footer>
    </main>
  );
}
