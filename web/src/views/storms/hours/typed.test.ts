import { expect, test } from "vitest";
import { type TypedHours, beginOf, blankRows, figuresOf, hoursOf } from "./typed";

const READER = { parse: (text: string) => (/^-?\d+([.,]\d+)?$/.test(text) ? Number(text.replace(",", ".")) : null), mm: (mm: number | null) => mm, speed: (speed: number | null) => speed };
const typed = (...rows: [string, string, string][]): TypedHours => ({ day: "2031-10-09", hour: 22, rows: [...rows.map(([rain, wind, from]) => ({ rain, wind, from })), ...blankRows(3)] });

test("blank rows at the end are left off; in the middle they are not recorded, never dry", () => {
  const { hours } = hoursOf(typed(["2,5", "10", "180"], ["", "", ""], ["0", "8", "225"]), READER);
  expect(hours).toMatchObject({ rain_mm: [2.5, null, 0], wind_m_s: [10, null, 8], from_deg: [180, null, 225] });
  expect(hours?.from).toBe(new Date("2031-10-09T22:00:00").toISOString());
});

test.each([["x", "1"], ["-1", "1"], ["501", "1"], ["1", "1048"]])("rain %s with wind %s cannot be kept", (rain, wind) => {
  const found = hoursOf(typed(["1", "1", ""], [rain, wind, "0"]), READER);
  expect([...found.wrong]).toEqual([1]);
  expect(found.hours).toBeNull();
});

test("nothing typed makes no hours", () => expect(hoursOf(typed(), READER)).toEqual({ wrong: new Set(), hours: null }));

test("rows are an hour apart", () => expect(beginOf(typed(), 5).getTime() - beginOf(typed(), 4).getTime()).toBe(3_600_000));

test("totals come from the hours", () => {
  const { hours } = hoursOf(typed(["2", "10", "180"], ["6", "14", "180"], ["1", "12", "180"]), READER);
  expect(hours && figuresOf(hours)).toMatchObject({ rain_mm: 9, rain_1h_mm: 6, rain_24h_mm: 9, duration_h: 3, wind_m_s: 12, wind_from_deg: 180 });
  expect(hours && figuresOf({ ...hours, wind_m_s: [null, null, null] }, { wind_m_s: 7 })).toMatchObject({ wind_m_s: 7 });
});
