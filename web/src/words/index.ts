/** Every sentence a person reads, in the language of this device. A missing Spanish sentence does not compile. */
import { settings } from "../store";
import { en, type WordKey } from "./en";
import { es } from "./es";

export type { WordKey } from "./en";
export type Vars = Record<string, string | number>;

const books: Record<"en" | "es", Record<WordKey, string>> = { en, es };

export function language(): "en" | "es" {
  return settings.value.language;
}

/**
 * The sentence for `key`, with {names} filled in. A sentence that depends on a number holds both
 * forms split by " | ": for one, and for any other number of `n`.
 */
export function t(key: WordKey, vars: Vars = {}): string {
  const [one = "", many] = books[language()][key].split(" | ");
  const chosen = many !== undefined && vars.n !== 1 ? many : one;
  return chosen.replace(/\{(\w+)\}/g, (whole, name: string) => String(vars[name] ?? whole));
}

/** The sentence for a refusal's code; an unknown code still says that nothing is lost. */
export function refusalWords(code: string): string {
  const key = `refusal_${code}`;
  return key in en ? t(key as WordKey) : t("refusal_unknown", { code });
}
