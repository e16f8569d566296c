/** Every sentence a person reads, in the language of this device. A missing Spanish sentence does not compile. */
import { signal } from "@preact/signals";
import type { Language } from "../model/catalogue";
import { settings } from "../store";
import type { FirstKey, LaterKey } from "./en";

export type WordKey = FirstKey | LaterKey;
export type Vars = Record<string, string | number>;
type Books = { first: () => Promise<Record<FirstKey, string>>; later: () => Promise<Record<LaterKey, string>> };

const BOOKS: Record<Language, Books> = {
  en: { first: async () => (await import("./en")).en, later: async () => (await import("./en/later")).later },
  es: { first: async () => (await import("./es")).es, later: async () => (await import("./es/later")).later },
};
/** Each language by its own name. */
export const LANGUAGES: Record<Language, string> = { en: "English", es: "Español" };

/** The sentences of the device's language: those of the first screen, and the rest once another was gone to. All lie on the phone. */
const book = signal<Partial<Record<WordKey, string>> | null>(null);
let beyondFirst = false;
export const wordsReady = (): boolean => book.value !== null;

/** A number in a sentence, or the place of one, stays on the line of its unit. */
const UNITS = /([\d}]) (?=(?:L\/m²|m²|mm|cm|m|kg|g|L|mL|°[CF]|%|MB|GB|ft²|ft|lb|oz|gal|m\/s|mph)(?![\p{L}\p{N}²/]))/gu;
// Each sentence when it is first said: all of them at once would hold up the first screen.
const said = new Map<string, string>();

function unparted(sentence: string): string {
  const known = said.get(sentence) ?? sentence.replace(UNITS, "$1\u00a0");
  said.set(sentence, known);
  return known;
}

/** Load the words of a language; until they are there the old ones stay. */
export async function loadWords(language: Language): Promise<void> {
  const { first, later } = BOOKS[language];
  const come = await Promise.all([first(), beyondFirst ? later() : {}]);
  book.value = Object.assign({}, book.peek(), ...come) as Record<string, string>;
}

/** What is fetched when it is first gone to, never before its sentences are there too. */
export async function withWords<M>(fetched: Promise<M>): Promise<M> {
  beyondFirst = true;
  return (await Promise.all([fetched, loadWords(language())]))[0];
}

export function language(): Language {
  return settings.value.language;
}

/** How dates and numbers are written: as the device itself is set where it speaks this language, else days come first unless the measures are American. */
export function locale(): string {
  const wanted = language();
  const own = typeof navigator === "undefined" ? undefined : navigator.languages?.find((one) => one.split("-")[0] === wanted && one.includes("-"));
  return own ?? (wanted !== "en" ? wanted : settings.value.measures === "us" ? "en-US" : "en-GB");
}

/** A number inside a sentence; four digits stand without a mark, so that a year stays a year. */
const inWords = (value: string | number): string =>
  (typeof value === "number" && !(Number.isInteger(value) && value < 10_000) ? new Intl.NumberFormat(locale(), { maximumFractionDigits: 3 }).format(value) : String(value));

/**
 * The sentence for `key`, with {names} filled in. A sentence that depends on a number holds both
 * forms split by " | ": for one, and for any other number of `n`.
 */
export function t(key: WordKey, vars: Vars = {}): string {
  const sentence = unparted(book.value?.[key] ?? key);
  const [one = "", many] = sentence.split(" | ");
  const chosen = many !== undefined && vars.n !== 1 ? many : one;
  return chosen.replace(/\{(\w+)\}/g, (whole, name: string) => inWords(vars[name] ?? whole));
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
