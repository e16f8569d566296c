import { describe, expect, test } from "vitest";
import { NO_WALL, NO_WEATHER, nightsOf, todayOf, unanswered } from "./answers";
import { whyNotToday } from "./gate";

const FINE = { ...NO_WEATHER, temperature_c: 15, trend: "rising" as const, lowest_c: 6, nights: 14, rain: "later" as const, wind: "calm" as const };
const DRY = { ...NO_WALL, dry: "dry" as const };
const judge = (weather: Partial<typeof FINE>, wall: Partial<typeof DRY> = {}) => {
  const today = todayOf({ ...FINE, ...weather }, { ...DRY, ...wall }, 14);
  if (!today) return null;
  const { verdict, reasons } = whyNotToday(today);
  return [verdict, ...reasons.map((reason) => reason.code)];
};

describe("answers at the wall", () => {
  test("a fine day with every question answered goes", () => {
    expect(judge({})).toEqual(["go"]);
    expect(unanswered(FINE)).toEqual([]);
  });

  test("without a temperature nothing is judged; every silence is named", () => {
    expect(judge({ temperature_c: null as never })).toBeNull();
    expect(unanswered(NO_WEATHER)).toEqual(["temperature", "trend", "nights", "rain", "wind"]);
  });

  test("each answer reaches its reason", () => {
    expect(judge({ rain: "within_day" as never })).toEqual(["stop", "rain_due"]);
    expect(judge({ wind: "strong" as never })).toEqual(["caution", "drying_wind"]);
    expect(judge({ wind: "breeze" as never })).toEqual(["go"]);
    expect(judge({ temperature_c: 25 }, { sun: true })).toEqual(["caution", "sun_on_wall"]);
    expect(judge({}, { dry: "wet" as never })).toEqual(["stop", "wall_not_dry"]);
    expect(judge({}, { dry: null as never })).toEqual(["caution", "wall_not_looked_at"]);
    expect(judge({}, { frozen: true })).toEqual(["stop", "frozen"]);
    expect(judge({ nights: 3 })).toEqual(["go", "forecast_too_short"]);
  });

  test("a frosty night lies where it was said to lie, tonight if nobody said", () => {
    expect(nightsOf({ ...FINE, lowest_c: -2, nights: 3, first_frost: null })).toEqual([-2, -2, -2]);
    expect(nightsOf({ ...FINE, lowest_c: -2, nights: 3, first_frost: "tomorrow" })).toEqual([1, -2, -2]);
    expect(nightsOf({ ...FINE, lowest_c: -2, nights: 1, first_frost: "later" })).toEqual([1, 1, -2]);
    expect(nightsOf({ ...FINE, lowest_c: 0.5, nights: 2 })).toEqual([0.5, 0.5]);
    expect(judge({ lowest_c: -1, first_frost: "later" as never }, { covered: true })).toEqual(["caution", "frost_ahead"]);
    expect(judge({ lowest_c: -1 }, { covered: true })).toEqual(["stop", "frost_ahead"]);
  });
});
