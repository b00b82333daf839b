/** The theme a person chose, kept in a cookie; `system` follows the device. */
export const themes = ["system", "light", "dark"] as const;
export type Theme = (typeof themes)[number];
export const themeCookie = "platewarden-theme";

/** Reads the cookie's value; anything unknown follows the device. */
export function asTheme(value: string | undefined): Theme {
  return themes.find((theme) => theme === value) ?? "system";
}
