import type { Metadata, Viewport } from "next";
import { cookies, headers } from "next/headers";
import type { ReactNode } from "react";
import { asTheme, themeCookie } from "./_ui/theme";
import "./tokens.css";
import "./ground.css";

export const metadata: Metadata = {
  title: { default: "Platewarden", template: "%s · Platewarden" },
  description: "What is plugged in, what its plate allows, and what must be done about it.",
  robots: { index: false, follow: false },
};
export const viewport: Viewport = {
  themeColor: [
    { media: "(prefers-color-scheme: light)", color: "#fffefc" },
    { media: "(prefers-color-scheme: dark)", color: "#191b1f" },
  ],
};

/** Reading the request's headers makes every page dynamic, as the nonce of the content security policy requires. */
export default async function RootLayout({ children }: { children: ReactNode }) {
  await headers();
  const theme = asTheme((await cookies()).get(themeCookie)?.value);
  return (
    <html lang="en" data-theme={theme === "system" ? undefined : theme}>
      <body>{children}</body>
    </html>
  );
}
