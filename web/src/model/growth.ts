/** What has become of a defect between two looks at it, with the numbers that say so; and the class of a crack by its width. */

import type { Reading, ReadingState } from "./types";

/** Common practice, no source: outlines drawn twice by hand differ by about this share. */
export const AREA_GROWTH_SHARE = 0.1;
/** Common practice, no source: a depth read twice against a straight board. */
export const DEPTH_GROWTH_MM = 3;
/** Twice the resolution of +-0.1 mm that repeated crack readings reach (BRE Digest 343, read); the factor is common practice, no source. */
export const CRACK_GROWTH_MM = 0.2;
/** Common practice, no source: a line traced twice by hand; lengths are judged as areas are. */
export const LENGTH_GROWTH_SHARE = 0.1;
/** Upper ends of classes 0 to 4 in mm; over the last is class 5. BRE page "Assessing cracks in houses" and PMC5384476 table 1 (read). */
export const CRACK_CLASS_UP_TO_MM = [0.1, 1, 5, 15, 25] as const;

// Keeps 1.1 m2 against 1 m2 from counting as more than 10 % by the last binary digit.
const ROUNDING = 1e-9;

export type Change = { before: number; now: number; by: number; grew: boolean };
export type Measure = "area_m2" | "length_m" | "depth_max_mm" | "crack_width_mm" | "count";
export type Growth = { state: ReadingState; changes: Partial<Record<Measure, Change>> };
export type Look = Pick<Reading, "id" | "at" | "state" | Measure>;

/** Crack class 0 to 5; a width on a boundary belongs to the narrower class: class 2 is over 1 up to 5 mm. */
export function crackClass(crack_width_mm: number): 0 | 1 | 2 | 3 | 4 | 5 {
  if (!(crack_width_mm >= 0)) throw new RangeError("a crack width is a number of millimetres, 0 or more");
  const found = CRACK_CLASS_UP_TO_MM.findIndex((top, i) => (i === 0 ? crack_width_mm < top : crack_width_mm <= top));
  return (found < 0 ? 5 : found) as 0 | 1 | 2 | 3 | 4 | 5;
}

function grewBy(measure: Measure, before: number, now: number): boolean {
  const limit: Record<Measure, number> = {
    area_m2: before * AREA_GROWTH_SHARE, length_m: before * LENGTH_GROWTH_SHARE,
    depth_max_mm: DEPTH_GROWTH_MM, crack_width_mm: CRACK_GROWTH_MM, count: 0,
  };
  return now - before > limit[measure] + ROUNDING;
}

function changesBetween(before: Look, now: Look): Growth["changes"] {
  const changes: Growth["changes"] = {};
  for (const measure of ["area_m2", "length_m", "depth_max_mm", "crack_width_mm", "count"] as const) {
    const [a, b] = [before[measure], now[measure]];
    if (a !== null && b !== null) changes[measure] = { before: a, now: b, by: b - a, grew: grewBy(measure, a, b) };
  }
  return changes;
}

function afterRepair(now: Look, changes: Growth["changes"]): Growth | null {
  if (now.state !== null) return { state: now.state, changes };
  const sizes = [now.area_m2, now.length_m, now.depth_max_mm, now.crack_width_mm, now.count].filter((size) => size !== null);
  if (sizes.length === 0) return null;
  return { state: sizes.some((size) => size > 0) ? "new" : "repaired", changes };
}

/**
 * The latest reading against the one before it, by time and then id. A first reading is new, and so is damage
 * measured again after a repair; a reading marked repaired is repaired whatever its numbers; otherwise one measure that grew is enough.
 * Where no measure was taken both times the person's own word stands, and without one nothing can be said (null).
 */
export function compareReadings(readings: readonly Look[]): Growth | null {
  const sorted = [...readings].sort((a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.id < b.id ? -1 : 1));
  const now = sorted.at(-1);
  const before = sorted.at(-2);
  if (now === undefined) return null;
  if (before === undefined) return { state: now.state ?? "new", changes: {} };
  const changes = changesBetween(before, now);
  if (now.state === "repaired") return { state: "repaired", changes };
  if (before.state === "repaired") return afterRepair(now, changes);
  if (Object.values(changes).some((change) => change.grew)) return { state: "grown", changes };
  if (Object.keys(changes).length > 0) return { state: now.state === "grown" ? "grown" : "held", changes };
  return now.state === null ? null : { state: now.state, changes };
}
