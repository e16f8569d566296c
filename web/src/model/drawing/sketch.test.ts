import { describe, expect, it } from "vitest";
import type { Elevation, Surface } from "../types";
import { NEW_SKETCH, asked, guessed, newOpening, openingTrouble, sketchOf, soundOpenings, surfaceOf } from "./sketch";

const row = (surface: Surface): Elevation => ({
  id: "e", site_id: "s", rev: 1, made_at: "", made_by: "", structure_id: "t", name: "south", surface, bearing_deg: 180, openings: null, backdrop: null,
});
const surfaces: Surface[] = [
  { kind: "flat", width_m: 6, height_m: 2.4, batter_deg: 3 },
  { kind: "round_wall", radius_m: 1.85, height_m: 2.2 },
  { kind: "dome", shape: "hemisphere", radius_m: 2.3 },
  { kind: "dome", shape: "cap", base_radius_m: 2, height_m: 1 },
  { kind: "dome", shape: "lancet", base_radius_m: 2.6, height_m: 4.2 },
  { kind: "dome", shape: "cone", base_radius_m: 2, top_radius_m: 0.3, height_m: 3 },
  { kind: "dome", shape: "profile", points_m: [[2, 0], [1.7, 1], [0, 3]] },
];

describe("a side being entered", () => {
  it("comes back as the wall it was made from, of every kind", () => {
    for (const surface of surfaces) expect(surfaceOf(sketchOf(row(surface))).surface).toEqual(surface);
  });

  it("asks for across and keeps the radius", () => {
    const sketch = { ...NEW_SKETCH, kind: "round_wall" as const, across_m: 3.7, height_m: 2.2 };
    expect(asked(sketch)).toEqual(["across_m", "height_m"]);
    expect(surfaceOf(sketch).surface).toEqual({ kind: "round_wall", radius_m: 1.85, height_m: 2.2 });
  });

  it("names the size that is missing or that cannot be", () => {
    expect(surfaceOf(NEW_SKETCH).wrong).toEqual({ field: "width_m", code: "missing" });
    expect(surfaceOf({ ...NEW_SKETCH, width_m: -4, height_m: 2 }).wrong).toEqual({ field: "width_m", code: "surface_refused" });
    expect(surfaceOf({ ...NEW_SKETCH, kind: "dome", across_m: 4, height_m: 1 }).wrong).toEqual({ field: "height_m", code: "surface_refused" });
    const falling = { ...NEW_SKETCH, kind: "dome" as const, shape: "profile" as const, rings: [{ across_m: 4, height_m: 0 }, { across_m: 2, height_m: 0 }] };
    expect(surfaceOf(falling).wrong).toEqual({ field: "rings", code: "surface_refused" });
  });

  it("has something to show before all sizes are given", () => {
    for (const kind of ["flat", "round_wall", "dome"] as const) expect(guessed({ ...NEW_SKETCH, kind }).kind).toBe(kind);
  });
});

describe("an opening", () => {
  const wall = surfaces[0] as Surface;

  it("of each kind fits the wall as it is offered", () => {
    for (const kind of ["door", "window", "niche", "ledge", "gutter"] as const) expect(openingTrouble(newOpening(kind, wall), wall)).toBeNull();
  });

  it("beside the wall, without a size, or with too low an arch is held back by name", () => {
    const door = newOpening("door", wall);
    expect(openingTrouble({ ...door, x_m: 5.5 }, wall)).toEqual({ field: "x_m", code: "off" });
    expect(openingTrouble({ ...door, y_m: 1 }, wall)).toEqual({ field: "y_m", code: "off" });
    expect(openingTrouble({ ...door, width_m: null }, wall)).toEqual({ field: "width_m", code: "missing" });
    expect(openingTrouble({ ...door, height_m: 0 }, wall)).toEqual({ field: "height_m", code: "missing" });
    expect(openingTrouble({ ...door, head: "arched", height_m: 0.4 }, wall)).toEqual({ field: "height_m", code: "arch" });
    expect(soundOpenings([door, { ...door, x_m: 5.5 }], wall)).toEqual([door]);
  });
});
