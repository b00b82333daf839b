import { z } from "zod";

// A list's state in its address. What cannot be read is left out, so that an old or mistyped link still opens.

/** Of a field given several times the first; an empty one is not given. */
function first(given: unknown): unknown {
  const one: unknown = Array.isArray(given) ? given[0] : given;
  return one === "" || one === null ? undefined : one;
}

/** A short text of the address. */
export const addressText = z.preprocess(first, z.string().max(200).optional()).catch(undefined);

/** One of the given words. */
export function addressChoice<const Words extends readonly string[]>(words: Words) {
  return z.preprocess(first, z.enum(words).optional()).catch(undefined);
}

/** The page of a list, from 1. */
export const addressPage = z.preprocess(first, z.coerce.number().int().min(1).max(1_000_000).optional()).catch(undefined);
