import { beforeEach, describe, expect, test, vi } from "vitest";
import { settings } from "../store";
import { locale, t, withWords } from ".";
import { massAsked, metresFromTyped, parseNumber, lowEnd, showArea, showBytes, showDate, showMass, showMetres, showMm, showMostMm, showNumber, showPercent, showTime, showVolume, typedFromMetres, typedNumber, volumeAsked } from "./measures";

const speak = async (language: "en" | "es", measures: "metric" | "us" = "metric", device: string[] = []) => {
  vi.stubGlobal("navigator", { languages: device });
  settings.value = { ...settings.value, language, measures };
  await withWords(Promise.resolve());
};
beforeEach(() => speak("en"));

describe("numbers", () => {
  // Spanish of Spain: RAE, Ortografía 2010, decimal comma; four digits stand together. From memory.
  test("have the decimal mark and the groups of the language", async () => {
    expect([showNumber(0.5), showNumber(1234.5), showNumber(12345.5)]).toEqual(["0.5", "1,234.5", "12,345.5"]);
    await speak("es");
    expect([showNumber(0.5), showNumber(1234.5), showNumber(12345.5)]).toEqual(["0,5", "1234,5", "12.345,5"]);
    expect([showArea(0.62), showMetres(2.4), showMm(12.5)]).toEqual(["0,62\u00a0m²", "2,4\u00a0m", "12,5\u00a0mm"]);
    expect(showPercent(0.5)).toMatch(/^50\s%$/u);
  });

  test("stand in a box as they would be typed, and are read back the same", async () => {
    for (const language of ["en", "es"] as const) {
      await speak(language);
      for (const value of [0, 0.5, 2.25, -3.5, 1234.5, 120000]) expect(parseNumber(typedNumber(value))).toBe(value);
    }
    expect(typedNumber(1234.5)).toBe("1234,5");
  });

  test("are taken with a point or a comma in either language, and nothing else", async () => {
    for (const language of ["en", "es"] as const) {
      await speak(language);
      expect([parseNumber("0,5"), parseNumber("0.5"), parseNumber(" 12 ")]).toEqual([0.5, 0.5, 12]);
      expect([parseNumber("1,2,3"), parseNumber("1.234,5"), parseNumber("x"), parseNumber("")]).toEqual([null, null, null, null]);
    }
  });

  test("inside a sentence are written like all others, and pick one or many", async () => {
    await speak("es");
    expect(t("unit_each", { n: 1.5 })).toContain("1,5");
    expect(t("form_number", { low: 0, high: 78.74 })).toContain("78,74");
    await speak("en");
    expect(t("unit_each", { n: 12345.5 })).toContain("12,345.5");
  });
});

describe("dates and times", () => {
  test("are written as the language and the measures have them", async () => {
    expect(showDate("2031-10-09")).toBe("9 Oct 2031");
    await speak("en", "us");
    expect(showDate("2031-10-09")).toBe("Oct 9, 2031");
    await speak("es");
    expect(showDate("2031-10-09")).toBe("9 oct 2031");
    expect(showTime("2031-10-09T14:05:00")).toBe("14:05");
  });

  test("follow the device where it speaks the language that was chosen", async () => {
    await speak("es", "metric", ["es-MX", "en-US"]);
    expect([locale(), showNumber(0.5)]).toEqual(["es-MX", "0.5"]);
    await speak("es", "metric", ["en-US", "en"]);
    expect([locale(), showNumber(0.5)]).toEqual(["es", "0,5"]);
  });
});

test("lengths and weights follow the measures, not the language", async () => {
  await speak("es", "us");
  // A foot is 0.3048 m and a pound 0.45359237 kg by definition.
  expect([showMetres(3.048), showMass(45.359237)]).toEqual(["10\u00a0ft", "100\u00a0lb"]);
  expect(metresFromTyped(typedFromMetres(3.048))).toBeCloseTo(3.048, 6);
});

describe("amounts asked for beside a plan", () => {
  test.each(["metric", "us"] as const)("%s: whoever types the number of the plan records the plan", async (measures) => {
    await speak("en", measures);
    for (const [show, asked, one] of [[showMass, massAsked, 0.066], [showMass, massAsked, 3.4], [showVolume, volumeAsked, 0.12], [showVolume, volumeAsked, 7.5]] as const) {
      const [number = "", unit] = show(one).split(/\s/);
      const field = asked(one);
      expect(field.unit).toBe(unit);
      // The plan is shown to three figures at most.
      expect(Math.abs((field.kept(parseNumber(number)) ?? NaN) - one)).toBeLessThan(0.03 * one);
      expect(field.kept(field.typed(one))).toBeCloseTo(one, 2);
    }
    expect([massAsked(1).typed(null), volumeAsked(1).kept(null)]).toEqual([null, null]);
  });

  test("66 g of hair are 0.066 kg, not 66 kg", () => {
    expect(massAsked(0.066)).toMatchObject({ unit: "g" });
    expect(massAsked(0.066).kept(66)).toBeCloseTo(0.066, 12);
  });

  test("a limit is told so that it may be typed", async () => {
    expect(showMostMm(500)).toBe("500\u00a0mm");
    await speak("en", "us");
    // 500 / 25.4 = 19.685; 1000 / 25.4 = 39.37.
    expect([showMostMm(500), showMostMm(1000)]).toEqual(["19.6\u00a0in", "39.3\u00a0in"]);
  });
});

test("no line end parts a number from its unit, in figures or in sentences", async () => {
  await speak("en");
  expect(t("help_dose")).toContain("1\u00a0L/m² is a film of water 1\u00a0mm");
  expect(t("dose_l_m2", { amount: "64" })).toBe("64\u00a0L/m²");
  expect(t("lasted_measure")).not.toContain("\u00a0");
});

test("a range tells its unit once, unless its ends have two", () => {
  expect([lowEnd("44\u00a0L", "84\u00a0L"), lowEnd("800\u00a0g", "1.2\u00a0kg"), lowEnd("2", "3")]).toEqual(["44", "800\u00a0g", "2"]);
});

test("room on the phone is told in gigabytes where it is large", () => {
  expect([showBytes(2_900_000), showBytes(10_740_000_000), showBytes(640_000_000)]).toEqual(["2.9\u00a0MB", "10.7\u00a0GB", "640\u00a0MB"]);
});
