import { describe, expect, test } from "vitest";
import { Refusal } from "./refusal";
import { celsiusFromFahrenheit, convert, fahrenheitFromCelsius, UNITS, type UnitOfMeasure } from "./units";

const names = Object.keys(UNITS) as UnitOfMeasure[];

describe("convert", () => {
  // Source: NIST Handbook 44 App. C; the inch 25.4 mm and the pound 0.45359237 kg by definition.
  test.each([
    ["tbsp", "ml", 14.78676478125], ["us_gal", "l", 3.785411784], ["us_gal", "tbsp", 256], ["us_gal", "cup", 16], ["ft3", "l", 28.316846592],
    ["ft3", "us_gal", 1728 / 231], ["yd3", "l", 764.554857984], ["lb", "kg", 0.45359237], ["lb_ft3", "kg_m3", 16.018463373960142],
    ["in", "mm", 25.4], ["ft", "m", 0.3048], ["us_bushel", "l", 35.23907016688], ["mph", "m_s", 0.44704], ["rain_in", "rain_mm", 25.4],
  ] as const)("1 %s in %s is %d", (given, wanted, expected) => {
    expect(Math.abs(convert(1, given, wanted) / expected - 1)).toBeLessThan(1e-12);
  });

  test("there and back is where it began", () => {
    for (const given of names) {
      for (const wanted of names.filter((name) => UNITS[name][0] === UNITS[given][0])) {
        expect(convert(convert(7.3, given, wanted), wanted, given)).toBeCloseTo(7.3, 12);
      }
    }
  });

  test("a length is no volume", () => {
    expect(() => convert(1, "ft", "l")).toThrow(Refusal);
  });

  test("temperatures", () => {
    expect([celsiusFromFahrenheit(32), celsiusFromFahrenheit(212), fahrenheitFromCelsius(-40)]).toEqual([0, 100, -40]);
  });
});
