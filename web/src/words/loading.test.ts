/** The first screen waits for its own sentences only; the rest come with the next one, and a change of language changes both. */
import { expect, test } from "vitest";
import { settings } from "../store";
import { isSentence, loadWords, t, withWords, wordsReady } from ".";
import { en } from "./en";
import { later } from "./en/later";
import { es } from "./es";
import { later as esLater } from "./es/later";

test("what is fetched later comes with its sentences, in the language of the moment", async () => {
  settings.value = { ...settings.value, language: "en" };
  expect(wordsReady()).toBe(false);
  await loadWords("en");
  expect(t("walls_title")).toBe(en.walls_title);
  expect(isSentence("storms_title")).toBe(false);
  expect(await withWords(Promise.resolve("the screen"))).toBe("the screen");
  expect(t("storms_title")).toBe(later.storms_title);
  settings.value = { ...settings.value, language: "es" };
  await loadWords("es");
  expect([t("walls_title"), t("storms_title")]).toEqual([es.walls_title, esLater.storms_title]);
});

test("a language that is asked for first and comes last takes away no sentence", async () => {
  settings.value = { ...settings.value, language: "en" };
  const first = loadWords("en");
  await withWords(Promise.resolve());
  await first;
  expect(isSentence("storms_title")).toBe(true);
});

test("a screen that cannot be fetched says so to whoever waits", async () => {
  await expect(withWords(Promise.reject(new Error("not reached")))).rejects.toThrow("not reached");
});
