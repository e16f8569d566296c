/** How long woven bag or straw has lain bare: weeks since it was first seen so, against the bounds of shared/lasting.json. */
import type { LastingRules } from "../catalogue";
import type { Defect, Reading } from "../types";
import { daysBetween } from "./follow";

export type Clock = LastingRules["clocks"][number];
/** `stage`: how many of the clock's bounds are passed. The true time is longer: nobody saw it begin. */
export type Bare = { defect: Defect; clock: Clock; since: string; weeks: number; stage: number };

export function bareClock(defect: Defect, readings: readonly Reading[], wall: string | null, clocks: readonly Clock[], today: string, day: (at: string) => string): Bare | null {
  const signs = defect.signs ?? [];
  const clock = clocks.find((one) => one.signs.some((sign) => signs.includes(sign)) || (one.wall_materials.includes(wall ?? "") && one.kinds.includes(defect.kind ?? "")));
  const first = readings[0]?.at ?? defect.made_at;
  if (!clock || readings.at(-1)?.state === "repaired") return null;
  const weeks = Math.max(0, Math.floor(daysBetween(day(first), today) / 7));
  return { defect, clock, since: day(first), weeks, stage: clock.weeks.filter((bound) => weeks >= bound).length };
}
