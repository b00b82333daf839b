import { z } from "zod";

/** The kinds of links that see and bring files. */
export const guestKind = z.enum(["contractor", "outside_checker", "occupant"]);
