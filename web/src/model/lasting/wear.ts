/**
 * How fast a face wears back, and how many storms like the last until it is through.
 * A port of erosion in server/makegood/science/erosion.py, held by shared/vectors/erosion.json; sources and limits there.
 */
import { Refusal } from "../refusal";
import type { Range } from "../types";
import { daysBetween } from "./follow";

const DAYS_A_YEAR = 365.25;
/** Assumed: a depth taken with rule and straight edge is right within 1 mm. */
export const READING_ERROR_MM = 1;
const MOST_DEPTH_MM = 2000;

/** l_m2: driving rain since the look before; null where not known. */
export type DatedDepth = { on: string; mean_mm: number; deepest_mm: number; l_m2: number | null };
export type Until = { low: number; likely: number; high: number | null };
export type Wear = { mm_per_year: Range | null; mm_per_l_m2: Range | null; left_mm: number; years: Until | null; doses: Until | null };
export type Erosion = { mean: Wear; deepest: Wear; breached: boolean; warnings: string[] };

export function erosion(depths: readonly DatedDepth[], coat_mm: number, lastStorm_l_m2: number | null = null): Erosion {
  const looks = [...depths].sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
  check(looks, coat_mm, lastStorm_l_m2);
  const warnings = warningsOf(looks);
  const rated = warnings.includes("one_depth_only") || warnings.includes("depth_fell") ? [] : looks;
  const wear = (of: number[]) => wearOf(rated, of, Math.max(0, coat_mm - (of.at(-1) ?? 0)), lastStorm_l_m2);
  return {
    mean: wear(looks.map((one) => one.mean_mm)), deepest: wear(looks.map((one) => one.deepest_mm)),
    breached: (looks.at(-1)?.deepest_mm ?? 0) >= coat_mm, warnings,
  };
}

const gaps = <T, R>(list: readonly T[], of: (earlier: T, later: T) => R): R[] => list.slice(1).map((later, i) => of(list[i] as T, later));

function wearOf(looks: readonly DatedDepth[], of: number[], left_mm: number, lastStorm_l_m2: number | null): Wear {
  const perDay = looks.length ? rateOf(of, gaps(looks, (a, b) => daysBetween(a.on, b.on))) : null;
  const perYear = perDay && { low: perDay.low * DAYS_A_YEAR, likely: perDay.likely * DAYS_A_YEAR, high: perDay.high * DAYS_A_YEAR };
  const rain = looks.slice(1).map((one) => one.l_m2);
  const known = looks.length > 0 && rain.every((l_m2) => l_m2 !== null && l_m2 > 0);
  const perRain = known ? rateOf(of, rain.map((l_m2) => l_m2 ?? 0)) : null;
  return { mm_per_year: perYear, mm_per_l_m2: perRain, left_mm, years: until(left_mm, perYear), doses: lastStorm_l_m2 ? until(left_mm / lastStorm_l_m2, perRain) : null };
}

function rateOf(depths_mm: readonly number[], exposures: readonly number[]): Range {
  const whole = exposures.reduce((a, b) => a + b, 0);
  const likely = ((depths_mm.at(-1) ?? 0) - (depths_mm[0] ?? 0)) / whole;
  const between = gaps(depths_mm, (a, b) => b - a).map((by, i) => by / (exposures[i] ?? 1));
  // Two readings, each off by as much as it may be, and both the wrong way.
  const byError = (2 * READING_ERROR_MM) / whole;
  return { low: Math.max(0, Math.min(...between, likely - byError)), likely, high: Math.max(...between, likely + byError) };
}

function until(left: number, rate: Range | null): Until | null {
  if (!rate || rate.likely <= 0) return null;
  return { low: left / rate.high, likely: left / rate.likely, high: rate.low > 0 ? left / rate.low : null };
}

function warningsOf(looks: readonly DatedDepth[]): string[] {
  if (looks.length === 1) return ["one_depth_only"];
  if (gaps(looks, (a, b) => b.mean_mm < a.mean_mm || b.deepest_mm < a.deepest_mm).some(Boolean)) return ["depth_fell"];
  return looks.at(-1)?.deepest_mm === looks[0]?.deepest_mm ? ["no_wear_seen"] : [];
}

function check(looks: readonly DatedDepth[], coat_mm: number, lastStorm_l_m2: number | null): void {
  if (!looks.length) throw new Refusal("no_depths", { depths: "empty" });
  const sound = (one: DatedDepth) => one.mean_mm >= 0 && one.mean_mm <= one.deepest_mm && one.deepest_mm <= MOST_DEPTH_MM;
  const odd = looks.find((one) => !sound(one));
  if (odd) throw new Refusal("depth_refused", { depths: odd.on });
  if (gaps(looks, (a, b) => a.on === b.on).some(Boolean)) throw new Refusal("date_twice", { depths: "same date" });
  if (!(coat_mm > 0 && coat_mm <= MOST_DEPTH_MM)) throw new Refusal("coat_refused", { coat_mm: "range" });
  const given = [lastStorm_l_m2, ...looks.map((one) => one.l_m2)];
  if (given.some((l_m2) => l_m2 !== null && !(Number.isFinite(l_m2) && l_m2 >= 0))) throw new Refusal("dose_refused", { l_m2: "below zero" });
}
