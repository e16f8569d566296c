/** Every sentence a person reads, in the language of this device. A missing Spanish sentence does not compile. */
import { signal } from "@preact/signals";
import { settings } from "../store";
import type { WordKey } from "./en";

export type { WordKey } from "./en";
export type Vars = Record<string, string | number>;
type Book = Record<WordKey, string>;

/** The book of the device's language. Only one is loaded; both lie on the phone. */
const book = signal<Book | null>(null);
export const wordsReady = (): boolean => book.value !== null;

/** Load the words of a language; until they are there the old ones stay. */
export async function loadWords(language: "en" | "es"): Promise<void> {
  book.value = language === "es" ? (await import("./es")).es : (await import("./en")).en;
}

export function language(): "en" | "es" {
  return settings.value.language;
}

/**
 * The sentence for `key`, with {names} filled in. A sentence that depends on a number holds both
 * forms split by " | ": for one, and for any other number of `n`.
 */
export function t(key: WordKey, vars: Vars = {}): string {
  return filled(book.value?.[key] ?? key, vars);
}

function filled(sentence: string, vars: Vars): string {
  const [one = "", many] = sentence.split(" | ");
  const chosen = many !== undefined && vars.n !== 1 ? many : one;
  return chosen.replace(/\{(\w+)\}/g, (whole, name: string) => String(vars[name] ?? whole));
}

/** As `t`, for the sentences of a place that is fetched when it is first gone to: they come with it, in both languages. */
export function bookOf<K extends string>(books: Record<"en" | "es", Readonly<Record<K, string>>>): (key: K, vars?: Vars) => string {
  return (key, vars = {}) => filled(books[language()][key], vars);
}

/** Whether there is a sentence under this name. */
export function isSentence(key: string): key is WordKey {
  return book.value !== null && key in book.value;
}

/** The sentence for a refusal's code; an unknown code still says that nothing is lost. */
export function refusalWords(code: string): string {
  const key = `refusal_${code}`;
  return isSentence(key) ? t(key) : t("refusal_unknown", { code });
}
