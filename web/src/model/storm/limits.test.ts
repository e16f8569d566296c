import { expect, test } from "vitest";
import records from "../../../../shared/records.json";
import { STORM_LIMITS, dayAllowed, dayOf, outOfLimits } from "./limits";

test("the limits of a storm's numbers are the server's", () => {
  const fields = records.types.storm.fields as Record<string, { min?: number; max?: number }>;
  const kept = Object.keys(STORM_LIMITS).map((name) => [name, [fields[name]?.min, fields[name]?.max]]);
  expect(STORM_LIMITS).toEqual(Object.fromEntries(kept));
  expect(outOfLimits("rain_mm", 2000.1)).toBe(true);
  expect(outOfLimits("rain_mm", -1)).toBe(true);
  expect(outOfLimits("rain_mm", 0)).toBe(false);
  expect(outOfLimits("rain_mm", null)).toBe(false);
});

test("days up to tomorrow are taken", () => {
  const now = "2031-05-24T12:00:00Z";
  const after = (days: number) => dayOf(new Date(Date.parse(now) + days * 86_400_000).toISOString());
  expect([after(0), after(1), after(2), "1899-12-31", "", "2099-01-01"].map((day) => dayAllowed(day, now))).toEqual([true, true, false, false, false, false]);
});
