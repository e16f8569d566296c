import { expect, test } from "vitest";
import type { Surface } from "../types";
import { limitsOf, partOutline, petalPath, roseOf, stepOf } from "./rain_drawing";
import { partsOf } from "./told";

const STORM = { rain_mm: 40, wind_m_s: 12, wind_from_deg: 225, duration_h: 10, hours: null, hail: null };

test("steps begin at their lower end", () => {
  expect([0, 0.99, 1, 9.9, 10, 32.9, 33, 56.5, 99, 100, 900].map(stepOf)).toEqual([0, 0, 1, 1, 2, 2, 3, 4, 4, 5, 5]);
});

test("the rose is fullest where the wind came from and empty behind", () => {
  const rose = roseOf(STORM);
  expect(rose).toHaveLength(16);
  const most = rose.reduce((a, b) => (b.dose.likely > a.dose.likely ? b : a));
  expect(most.bearing_deg).toBe(225);
  expect(rose.find((one) => one.bearing_deg === 45)?.dose.likely).toBe(0);
  expect(roseOf({ ...STORM, rain_mm: null })).toEqual([]);
  expect(petalPath(0, 1)).toMatch(/^M0 0L.*z$/);
});

test.each<[string, Surface, number]>([
  ["flat", { kind: "flat", width_m: 4, height_m: 3, batter_deg: 0 }, 12],
  ["round wall", { kind: "round_wall", radius_m: 2, height_m: 3 }, 12],
  ["hemisphere", { kind: "dome", shape: "hemisphere", radius_m: 3 }, (9 * Math.PI) / 2],
])("the parts of a %s cover what is seen of it, once", (_name, surface, area_m2) => {
  const area = partsOf(surface, 90, 16).map((part) => partOutline(surface, part)).reduce((sum, ring) => sum + Math.abs(ring.reduce((twice, [x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length] as readonly [number, number];
    return twice + x * ny - nx * y;
  }, 0)) / 2, 0);
  expect(Math.abs(area / area_m2 - 1)).toBeLessThan(0.01);
});

test("on a dome the part that faces the wind takes most of an equally high ring", () => {
  const ring = partsOf({ kind: "dome", shape: "hemisphere", radius_m: 3 }, 225, 3).slice(0, 6);
  expect(ring.map((one) => one.face.bearing_deg)).toEqual([300, 270, 240, 210, 180, 150]);
});

test("limits a storm meets", () => {
  expect(limitsOf(STORM)).toEqual(["by_totals"]);
  expect(limitsOf({ ...STORM, duration_h: 2, hail: true, wind_from_deg: null })).toEqual(["convective", "hail", "no_direction", "by_totals"]);
  const hours = { rain_mm: [1, 30, null], wind_m_s: [5, 5, 5], from_deg: [0, 0, 0] };
  expect(limitsOf({ ...STORM, rain_mm: null, hours })).toEqual(["convective", "gaps"]);
});
