import { describe, expect, test } from "vitest";
import vectors from "../../../../shared/vectors/measuring.json";
import type { PhotoPoint, Surface, View, WallPoint } from "../types";
import { type Placed, measureOutline } from "./measure";

type Given = Placed & { surface: Surface; view: View; outline: PhotoPoint[] };
type Case = { name: string; in: Given; out?: { area_m2: number; perimeter_m: number; within: number }; points_m?: WallPoint[]; error?: string };
const cases = vectors.cases as unknown as Case[];

describe("an outline on a photo of damage of known size", () => {
  test.each(cases.map((one) => [one.name, one] as const))("%s", (_name, one) => {
    const run = () => measureOutline(one.in, one.in.surface, one.in.view, one.in.outline);
    if (one.error) {
      expect(run).toThrow(expect.objectContaining({ code: one.error }));
      return;
    }
    const found = run();
    const { area_m2, perimeter_m, within } = one.out!;
    expect(Math.abs(found.area_m2 / area_m2 - 1)).toBeLessThan(within);
    expect(Math.abs(found.perimeter_m / perimeter_m - 1)).toBeLessThan(within);
    expect(found.low_m2).toBeLessThan(area_m2);
    expect(found.high_m2).toBeGreaterThan(area_m2);
    one.points_m?.forEach((point, k) => {
      expect(found.points_m[k]![0]).toBeCloseTo(point[0], 2);
      expect(found.points_m[k]![1]).toBeCloseTo(point[1], 2);
    });
  });
});
