import { expect, it } from "vitest";
import { type Wait, layersOf } from "./waits";

const days = { low: 1, likely: 1, high: 1 };
const wait = (part: Wait["part"], mix: string, thickness_mm: number | null, first_n: number | null, times = 1): Wait => (
  { part, mix, first_n, thickness_mm, times, starts_days: days, next_days: days, after_days: days, damp_days: days });

it("draws lifts and coats as they lie from the wall outwards; a wash by its coats, what fills a crack not at all", () => {
  const waits = [wait("fill", "crack_filler", null, null), wait("dub_out", "lime_base_coat", 12, null, 2), wait("coat", "lime_finish", 4, 1), wait("coat", "limewash", null, 2, 3)];
  expect(layersOf(waits)).toEqual([
    { mix: "lime_base_coat", thickness_mm: 24, first_n: null, last_n: null }, { mix: "lime_finish", thickness_mm: 4, first_n: 1, last_n: 1 },
    { mix: "limewash", thickness_mm: 0.75, first_n: 2, last_n: 4 },
  ]);
  expect(layersOf([])).toEqual([]);
});
