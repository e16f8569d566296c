import { describe, expect, it } from "vitest";
import { checkSurface, settle, shapeOf } from "../surface";
import type { DomeSurface, Mark, Opening, RoundWallSurface, Surface, WallPoint } from "../types";
import { carried, cornersOf, extentOf, middleX, ontoWall, openingRing, draws, firstViewOf, ringsAbove, shadesOf, viewsOf } from "./projection";

const flat: Surface = { kind: "flat", width_m: 6, height_m: 2.4, batter_deg: 0 };
const round: RoundWallSurface = { kind: "round_wall", radius_m: 2, height_m: 2.2 };
const lancet: DomeSurface = { kind: "dome", shape: "lancet", base_radius_m: 2.6, height_m: 4.2 };
const bulging: DomeSurface = { kind: "dome", shape: "cap", base_radius_m: 1, height_m: 3 };

describe("views", () => {
  it("a flat wall has one, a round wall two, a dome three", () => {
    expect([flat, round, lancet].map((one) => viewsOf(one).length)).toEqual([1, 2, 3]);
  });

  it("show the wall in its true size", () => {
    expect(extentOf(flat, "seen")).toEqual({ x0: 0, y0: 0, x1: 6, y1: 2.4 });
    expect(extentOf(round, "unrolled").x1).toBeCloseTo(4 * Math.PI, 9);
    expect(extentOf(lancet, "seen").x1).toBeCloseTo(2.6, 9);
    expect(middleX(flat, "seen")).toBe(3);
    expect(middleX(lancet, "seen")).toBe(0);
  });
});

describe("a point beside the wall", () => {
  it("is drawn onto it wherever it was tapped", () => {
    const taps: WallPoint[] = [[-9, -9], [9, 9], [0, 9], [2.59, 4], [0, 0], [-1, 2]];
    for (const surface of [checkSurface(flat), round, lancet, bulging]) {
      for (const view of viewsOf(surface)) {
        const on = taps.map((tap) => ontoWall(surface, view, tap));
        expect(settle(shapeOf(surface), view, on)).toHaveLength(taps.length);
      }
    }
  });

  it("stays where it is on the wall", () => {
    expect(ontoWall(lancet, "seen", [0.4, 1.9])).toEqual([0.4, 1.9]);
  });
});

describe("a mark in another view", () => {
  it("lands where its angle and height say", () => {
    // Hand reckoning: x = 1 on a wall of radius 2 is asin(1/2) = 30 degrees, an arc of pi/3 to the right of the middle at 2 pi.
    const [point] = carried(round, "seen", "unrolled", [[1, 1.5]], 1) ?? [];
    expect(point?.[0]).toBeCloseTo(2 * Math.PI + Math.PI / 3, 9);
    expect(point?.[1]).toBe(1.5);
  });

  it("comes back to the same place", () => {
    const there = carried(lancet, "seen", "above", [[0.5, 1.5]], 1) as WallPoint[];
    const [back] = carried(lancet, "above", "seen", there, 1) as WallPoint[];
    expect(back?.[0]).toBeCloseTo(0.5, 9);
    expect(back?.[1]).toBeCloseTo(1.5, 9);
  });

  it("is not torn in two by the seam at the back or by the crown", () => {
    expect(carried(lancet, "above", "unrolled", [[-0.3, -0.3], [0.3, -0.3], [0.3, 0.3], [-0.3, 0.3]], 3)).toBeNull();
    expect(carried(lancet, "above", "unrolled", [[-0.4, 1.5], [0.4, 1.5]], 2)).toBeNull();
    expect(carried(lancet, "above", "unrolled", [[-0.4, -1.5], [0.4, -1.5]], 2)).not.toBeNull();
  });

  it("is not shown where it lies round the back", () => {
    expect(carried(round, "unrolled", "seen", [[0.2, 1]], 1)).toBeNull();
  });

  it("is found in the first view that draws it", () => {
    const over_crown: Mark = { view: "above", shape: "outline", points_m: [[-0.1, 0.05], [0.6, 0], [0.5, 0.6], [-0.1, 0.5]] };
    const behind: Mark = { view: "unrolled", shape: "pin", points_m: [[0.2, 1]] };
    const before: Mark = { view: "unrolled", shape: "pin", points_m: [[2 * Math.PI, 1]] };
    const round_crown: Mark = { ...over_crown, points_m: [[-0.3, -0.3], [0.3, -0.3], [0.3, 0.3], [-0.3, 0.3]].map(([x = 0, y = 0]): WallPoint => [x, y + 0.2]) };
    expect(draws(lancet, "unrolled", round_crown)).toBe(false);
    expect(firstViewOf(lancet, { ...round_crown, shape: "line", points_m: [[-0.4, 1.5], [0.4, 1.5]] })).toBe("above");
    expect(firstViewOf(lancet, over_crown)).not.toBe("unrolled");
    expect(firstViewOf(round, behind)).toBe("unrolled");
    expect(firstViewOf(round, before)).toBe("seen");
    expect(draws(round, "seen", behind)).toBe(false);
  });

  it("shows in no view of a wall it no longer fits", () => {
    expect(firstViewOf(round, { view: "above", shape: "pin", points_m: [[0.2, 0.2]] })).toBeNull();
  });
});

describe("openings, shading and rings", () => {
  it("an arched door is a half circle on a rectangle", () => {
    const door: Opening = { kind: "door", x_m: 1, y_m: 0, width_m: 1, height_m: 2, head: "arched" };
    const ring = openingRing(door);
    const area = Math.abs(ring.reduce((sum, [x, y], i) => {
      const [u, v] = ring[(i + 1) % ring.length] as WallPoint;
      return sum + (x * v - u * y) / 2;
    }, 0));
    expect(area).toBeCloseTo(1.5 + (Math.PI * 0.25) / 2, 2);
    expect(Math.max(...ring.map(([, y]) => y))).toBeCloseTo(2, 9);
  });

  it("shading lies between a meridian and the edge, on both sides", () => {
    expect(shadesOf(flat, "seen")).toEqual([]);
    const shades = shadesOf(lancet, "seen");
    expect(shades).toHaveLength(8);
    for (const shade of shades) for (const [x, y] of shade) expect(Math.abs(x)).toBeLessThanOrEqual(shapeOf(lancet).round!.radius(y) + 1e-9);
  });

  it("rings from above stand at whole metres", () => {
    const rings = ringsAbove(lancet, 1);
    expect(rings.map((ring) => ring.height_m)).toEqual([1, 2, 3, 4]);
    expect(rings[0]!.radius_m).toBeGreaterThan(rings[1]!.radius_m);
  });

  it("four corners to lay a photo by are on the wall", () => {
    for (const surface of [checkSurface(flat), round, lancet, bulging]) {
      expect(settle(shapeOf(surface), "seen", cornersOf(surface))).toHaveLength(4);
    }
  });
});
