/**
 * Why not today: what stands against laying lime or earth plaster now, each reason with a code; the sentences stand in the word books.
 * Twin of science/gate.py, held to it by shared/vectors/gate.json. Sources: temperature with trend read, a national specification clause 497;
 * 8 to 30 C read, a producer's sheet; drying times read, Heritage Science 2021 9:143 table 6; the rest common practice.
 */
import { Refusal } from "../refusal";
import type { Range } from "../types";

const STOP_AT_FALLING_C = 5;
const STOP_UNDER_RISING_C = 3;
const LIME_LOWEST_C = 8;
const LIME_HIGHEST_C = 30;
const FROST_C = 0;
/** Days until a soaked adobe wall was dry; likely is the middle of a wide spread, assumed. Over 30 days is real. */
export const DRYING_DAYS: Range = { low: 0.2, likely: 10, high: 31.4 };
const RAIN_FREE_H = 24;
const DRYING_WIND_M_S = 8;
const DRYING_SUN_C = 20;

export type Trend = "falling" | "steady" | "rising";
/** What is known at the wall now; null or absent is not known. Nights: the lowest of each coming night. */
export type Today = {
  temperature_c: number;
  trend: Trend;
  nights_c?: readonly number[];
  /** How long this work must not freeze. */
  frost_free_days?: number;
  wall_dry?: boolean | null;
  wall_frozen?: boolean;
  rain_in_h?: number | null;
  /** Sheeted against rain and frost. */
  covered?: boolean;
  sun_on_wall?: boolean;
  wind_m_s?: number | null;
};
export type Level = "stop" | "caution" | "note";
export type ReasonCode =
  | "too_cold" | "cool_for_lime" | "hot_for_lime" | "frozen" | "frost_ahead" | "forecast_too_short" | "wall_not_looked_at" | "wall_not_dry"
  | "rain_due" | "sun_on_wall" | "drying_wind";
/** `n`: the night it freezes, counted from 1, or the days without frost it wants. */
export type Reason = { code: ReasonCode; level: Level; n?: number };
export type Verdict = { verdict: "stop" | "caution" | "go"; reasons: Reason[] };

const ORDER: readonly Level[] = ["stop", "caution", "note"];

/** Whether to lay today, and all that stands against it, worst first. Steady counts as falling, the safer of the two. Throws a Refusal: trend_unknown, out_of_range. */
export function whyNotToday(today: Today): Verdict {
  check(today);
  const found = [...temperature(today), ...frost(today), ...wall(today), ...rain(today), ...sunAndWind(today)];
  const reasons = found.sort((one, other) => ORDER.indexOf(one.level) - ORDER.indexOf(other.level));
  const worst = reasons[0]?.level ?? "note";
  return { verdict: worst === "note" ? "go" : worst, reasons };
}

/** How many more days a soaked wall may need. No upper limit: a dry wall is told by looking, not by this figure. Throws a Refusal: out_of_range. */
export function daysLeftToDry(days_since_wet: number, drying_days: Range = DRYING_DAYS): Range {
  if (!(days_since_wet >= 0)) throw new Refusal("out_of_range", { days: "below zero" });
  const left = (days: number) => Math.max(0, days - days_since_wet);
  return { low: left(drying_days.low), likely: left(drying_days.likely), high: left(drying_days.high) };
}

function temperature({ temperature_c, trend }: Today): Reason[] {
  const rising = trend === "rising";
  if (rising ? temperature_c < STOP_UNDER_RISING_C : temperature_c <= STOP_AT_FALLING_C) return [{ code: "too_cold", level: "stop" }];
  if (temperature_c < LIME_LOWEST_C) return [{ code: "cool_for_lime", level: "caution" }];
  return temperature_c > LIME_HIGHEST_C ? [{ code: "hot_for_lime", level: "caution" }] : [];
}

function frost({ nights_c = [], frost_free_days = 0, wall_frozen, covered }: Today): Reason[] {
  const reasons: Reason[] = wall_frozen ? [{ code: "frozen", level: "stop" }] : [];
  const night = nights_c.findIndex((low, i) => i < frost_free_days && low <= FROST_C);
  if (night >= 0) reasons.push({ code: "frost_ahead", level: covered && night > 0 ? "caution" : "stop", n: night + 1 });
  else if (nights_c.length < frost_free_days) reasons.push({ code: "forecast_too_short", level: "note", n: frost_free_days });
  return reasons;
}

function wall({ wall_dry }: Today): Reason[] {
  if (wall_dry == null) return [{ code: "wall_not_looked_at", level: "caution" }];
  return wall_dry ? [] : [{ code: "wall_not_dry", level: "stop" }];
}

function rain({ rain_in_h, covered }: Today): Reason[] {
  if (rain_in_h == null || rain_in_h >= RAIN_FREE_H) return [];
  return [{ code: "rain_due", level: covered ? "caution" : "stop" }];
}

function sunAndWind({ temperature_c, sun_on_wall, wind_m_s }: Today): Reason[] {
  const reasons: Reason[] = [];
  if (sun_on_wall && temperature_c >= DRYING_SUN_C) reasons.push({ code: "sun_on_wall", level: "caution" });
  if (wind_m_s != null && wind_m_s >= DRYING_WIND_M_S) reasons.push({ code: "drying_wind", level: "caution" });
  return reasons;
}

function check(today: Today): void {
  if (!["falling", "steady", "rising"].includes(today.trend)) throw new Refusal("trend_unknown", { trend: today.trend });
  if (!(Math.abs(today.temperature_c) <= 60)) throw new Refusal("out_of_range", { temperature_c: "range" });
  if (today.wind_m_s != null && !(today.wind_m_s >= 0 && today.wind_m_s <= 120)) throw new Refusal("out_of_range", { wind_m_s: "range" });
  if (today.rain_in_h != null && !(today.rain_in_h >= 0)) throw new Refusal("out_of_range", { rain_in_h: "below zero" });
}
