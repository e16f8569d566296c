import { beforeEach, expect, test, vi } from "vitest";
import type { Material } from "../../model/catalogue";
import type { MaterialNeed } from "../../model/materials/job";
import { settings } from "../../store";
import { withWords } from "../../words";
import { batchInMeasures, besideAmount } from "./amountWords";
import { coatName, coatTag, coatThenMix, coatsName, mixThenCoat } from "./coatWords";

const speak = async (language: "en" | "es") => {
  vi.stubGlobal("navigator", { languages: [] });
  settings.value = { ...settings.value, language, measures: "metric" };
  await withWords(Promise.resolve());
};
beforeEach(() => speak("en"));

const days = (likely: number) => ({ low: likely, likely, high: likely });
const need = (kg: number, l: number | null): MaterialNeed => ({ unit: "kg", amount: days(kg), l: l === null ? null : days(l), damp_l: null });
const hair = { unit: "kg", small: true } as Material;
const lime = { unit: "kg", small: false } as Material;

test("what is weighed has one mass, not a second one of its rounding; what goes by the bucket has its mass beside it", () => {
  expect(besideAmount(hair, need(0.051, 0.4))).toBe("");
  expect(besideAmount(lime, need(12.34, 20.6))).toBe("12.3\u00a0kg · 20.6\u00a0L loose");
});

test("a batch is told in litres, and in buckets that hold it", async () => {
  // Without a site of its own a bucket is 10 L.
  expect(batchInMeasures(19.3)).toBe("19.3\u00a0L (fits in 2 buckets)");
  expect(batchInMeasures(12.6)).toBe("12.6\u00a0L (fits in 1½ buckets)");
  expect(batchInMeasures(0.9)).toBe("0.9\u00a0L");
});

test("only true coats are numbered, a filling has its lifts", async () => {
  const [coat, filling, fill] = [{ part: "coat", n: 2, lift: 1, lifts: 1 }, { part: "dub_out", n: null, lift: 2, lifts: 3 }, { part: "fill", n: null, lift: 1, lifts: 1 }] as const;
  expect([coatName(coat), coatName(filling), coatName({ ...filling, lift: 1, lifts: 1 }), coatName(fill)]).toEqual(["Coat 2", "Filling, lift 2 of 3", "Filling", ""]);
  expect([coatThenMix({ ...coat, mix: "lime" }), coatThenMix({ ...fill, mix: "lime" })]).toEqual(["Coat 2: lime", "lime"]);
  expect([mixThenCoat(["lime", "sand"], filling), mixThenCoat(["lime"], fill), mixThenCoat(["lime"], undefined)]).toEqual(["lime, sand (Filling, lift 2 of 3)", "lime", "lime"]);
  expect([coatsName(1, 4), coatsName(2, 1), coatsName(null, 3)]).toEqual(["Coats 1 to 4", "Coat 2", "Filling"]);
  expect([coatTag(1, 4), coatTag(2, 2), coatTag(null, null)]).toEqual(["1–4", "2", "F"]);
  await speak("es");
  expect([coatName({ ...coat, n: 1 }), coatName(filling), coatTag(null, null)]).toEqual(["Capa 1", "Relleno, tongada 2 de 3", "R"]);
});
