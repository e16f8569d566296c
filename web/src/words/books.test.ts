/** Both languages say everything: no sentence missing, none left untranslated, the same names to fill in and the same forms for one and many. */
import { describe, expect, test } from "vitest";
import vocabulary from "../../../shared/vocabulary.json";
import { en as first } from "./en";
import { later } from "./en/later";
import { es } from "./es";
import { later as esLater } from "./es/later";

const en: Record<string, string> = { ...first, ...later };
const LANGUAGES: Record<string, Record<string, string>> = { es: { ...es, ...esLater } };

/** Written alike in both languages; every other sentence that is the same was forgotten. */
const ALIKE: Record<string, readonly string[]> = { es: ["join_title", "materials_head", "measuring_card_a4_hint", "measuring_card_letter_hint", "no", "size_inches", "storms_force"] };

const names = (sentence: string): string[] => [...new Set([...sentence.matchAll(/\{(\w+)\}/g)].map(([, name]) => name ?? ""))].sort();
const forms = (sentence: string): number => sentence.split(" | ").length;

describe.each(Object.entries(LANGUAGES))("%s beside English", (language, book) => {
  const both = Object.entries(en).map(([key, english]) => ({ key, english, other: book[key] ?? "" }));

  test("has every sentence and no other", () => {
    expect(Object.keys(book).sort()).toEqual(Object.keys(en).sort());
    expect(both.filter(({ other }) => other.trim() === "")).toEqual([]);
  });

  test("leaves no sentence in English", () => {
    const left = both.filter(({ english, other }) => english === other && /\p{L}{2,}/u.test(english.replace(/\{\w+\}/g, ""))).map(({ key }) => key);
    expect(left.sort()).toEqual([...(ALIKE[language] ?? [])].sort());
  });

  test("fills in the same names, and has a form for one wherever English has", () => {
    expect(both.filter(({ english, other }) => String(names(english)) !== String(names(other)))).toEqual([]);
    expect(both.filter(({ english, other }) => forms(english) !== forms(other))).toEqual([]);
  });
});

test("a planted fault is found", () => {
  expect(names("{n} of {all}")).not.toEqual(names("{n} de {todo}"));
  expect(forms("{n} day | {n} days")).not.toBe(forms("{n} días"));
});

test("words that go with a number say for one what the vocabulary says", () => {
  const books: Record<string, Record<string, string>> = { en, ...LANGUAGES };
  const lists = [["filter_many_", vocabulary.ticket_states], ["survey_many_", vocabulary.reading_states]] as const;
  const other = lists.flatMap(([prefix, list]) => list.flatMap(({ id, words }) => Object.entries(words).filter(([language, word]) => books[language]?.[prefix + id]?.split(" | ")[0] !== word).map(([language]) => [prefix + id, language])));
  expect(other).toEqual([]);
});
