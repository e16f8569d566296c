import { describe, expect, test } from "vitest";
import { Refusal } from "./refusal";
import { angleOf, bearingAt, checkSurface, pointOf, seenWidth, shapeOf, silhouettePath, surfaceHalfWidthAt, surfaceHeight, unrolledWidth } from "./surface";
import { reckonArea } from "./outline";
import type { Surface, View } from "./types";

const dome: Surface = { kind: "dome", shape: "hemisphere", radius_m: 3 };
const roundWall: Surface = { kind: "round_wall", radius_m: 2, height_m: 2.5 };
const flat: Surface = { kind: "flat", width_m: 6, height_m: 3, batter_deg: 5 };
const bulge: Surface = { kind: "dome", shape: "cap", base_radius_m: 2, height_m: 3.2 };
const lancet: Surface = { kind: "dome", shape: "lancet", base_radius_m: 10, height_m: 20 };
const measured: Surface = { kind: "dome", shape: "profile", points_m: [[2.4, 0], [2.4, 0.6], [2.1, 1.7], [0.25, 3.3]] };

describe("sizes for drawing", () => {
  test("height and widths", () => {
    expect([flat, roundWall, dome, bulge].map(surfaceHeight)).toEqual([3, 2.5, 3, 3.2]);
    expect([flat, roundWall, dome].map(seenWidth)).toEqual([6, 4, 6]);
    expect(seenWidth(bulge)).toBeCloseTo((4 + 3.2 ** 2) / 3.2, 12);
    expect(unrolledWidth(roundWall)).toBeCloseTo(4 * Math.PI, 12);
  });

  test.each([[0, 10], [5, 9.495], [10, 7.913], [15, 5], [20, 0]])("lancet as wide as high: half width at %d is %d", (z, half) => {
    expect(surfaceHalfWidthAt(lancet, z)).toBeCloseTo(half, 3);
  });

  test.each([[dome, "seen"], [bulge, "seen"], [lancet, "seen"], [measured, "seen"], [roundWall, "seen"], [flat, "seen"], [roundWall, "unrolled"], [dome, "above"]] as [Surface, View][])(
    "the silhouette of %j lies on the wall (%s)",
    (surface, view) => {
      const path = silhouettePath(surface, view, 60);
      expect(reckonArea(surface, view, path).as_drawn_m2 / reckonArea(surface, view).as_drawn_m2).toBeCloseTo(1, 2);
    },
  );
});

describe("bearings", () => {
  test("on a round wall that faces north, the right hand looks west and the left hand east", () => {
    expect(bearingAt(roundWall, "seen", [2, 1], 0)).toBeCloseTo(270, 9);
    expect(bearingAt(roundWall, "seen", [-2, 1], 0)).toBeCloseTo(90, 9);
    expect(bearingAt(roundWall, "unrolled", [2 * Math.PI, 1], 40)).toBeCloseTo(40, 9);
    expect(bearingAt(roundWall, "unrolled", [3 * Math.PI, 1], 40)).toBeCloseTo(310, 9);
  });

  test("from above, the near side faces the viewer and the far side away", () => {
    expect(bearingAt(dome, "above", [0, -1], 90)).toBeCloseTo(90, 9);
    expect(bearingAt(dome, "above", [0, 1], 90)).toBeCloseTo(270, 9);
    expect(bearingAt(dome, "above", [1, 0], 90)).toBeCloseTo(0, 9);
  });

  test("a flat wall faces one way all over", () => {
    expect(bearingAt(flat, "seen", [5, 1], 123)).toBe(123);
  });
});

describe("places between views", () => {
  test.each([dome, bulge, lancet, measured])("seen, unrolled and from above agree on %j", (surface) => {
    const round = shapeOf(surface).round!;
    for (const [angle, share] of [[0.3, 0.7], [-1.2, 0.8], [1.5, 0.95]] as const) {
      for (const view of ["seen", "unrolled", "above"] as const) {
        const point = pointOf(round, view, angle, share * round.height)!;
        const [back, z] = angleOf(round, view, point);
        expect(back).toBeCloseTo(angle, 9);
        expect(z).toBeCloseTo(share * round.height, 9);
      }
    }
  });

  test("what a view hides has no place in it", () => {
    expect(pointOf(shapeOf(dome).round!, "seen", 2, 1)).toBeNull();
    expect(pointOf(shapeOf(bulge).round!, "above", 0, 0.1)).toBeNull();
  });
});

describe("checkSurface", () => {
  test("a flat wall without batter is upright", () => {
    expect(checkSurface({ kind: "flat", width_m: 2, height_m: 1 })).toEqual({ kind: "flat", width_m: 2, height_m: 1, batter_deg: 0 });
  });

  test.each([
    [null, "surface"], [{ kind: "flat", width_m: NaN, height_m: 1 }, "width_m"], [{ kind: "flat", width_m: Infinity, height_m: 1 }, "width_m"],
    [{ kind: "dome", shape: "cone", base_radius_m: 1, top_radius_m: -1, height_m: 2 }, "top_radius_m"],
    [{ kind: "dome", shape: "lancet", base_radius_m: 2, height_m: 1 }, "height_m"],
  ])("%j is refused and %s named", (surface, field) => {
    try {
      checkSurface(surface);
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(Refusal);
      expect((error as Refusal).code).toBe("surface_refused");
      expect(Object.keys((error as Refusal).fields)).toEqual([field]);
    }
  });
});
