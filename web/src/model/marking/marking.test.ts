import { describe, expect, it } from "vitest";
import type { Elevation, WallPoint } from "../types";
import { defectFields, draftFacts, emptyMark, isBlank, markOfDrawn, measuredOn, questionsFor, readPoints, refusalOf, sizeOfDrawn } from "./marking";

const row = { site_id: "s", rev: 1, made_at: "2026-10-09T10:00:00Z", made_by: "Ana" };
const wall: Elevation = {
  ...row, id: "e", structure_id: "t", name: "south", bearing_deg: 180, openings: null, backdrop: null,
  surface: { kind: "flat", width_m: 6, height_m: 3, batter_deg: 0 },
};
const square: WallPoint[] = [[1, 1], [2, 1], [2, 2], [1, 2]];
const draft = { ...emptyMark("e"), kind: "washout" };

describe("a mark being drawn", () => {
  it("is none without a point", () => {
    expect(markOfDrawn(draft)).toBeNull();
    expect(isBlank(emptyMark("e"))).toBe(true);
  });
  it("is kept as the lesser shape while corners are missing", () => {
    const shape = (n: number) => markOfDrawn({ view: "seen", shape: "outline", points_m: square.slice(0, n) })?.shape;
    expect([1, 2, 3, 4].map(shape)).toEqual(["pin", "line", "outline", "outline"]);
  });
  it("keeps one point of a shape that was turned into a pin", () => {
    expect(markOfDrawn({ view: "seen", shape: "pin", points_m: square })?.points_m).toEqual([[1, 1]]);
  });
  it("reads points from an address and leaves out what is none", () => {
    expect(readPoints("1.25,0.4;2,-1")).toEqual([[1.25, 0.4], [2, -1]]);
    expect(readPoints("1;a,b;,2;3,4,5")).toEqual([]);
    expect(readPoints(undefined)).toEqual([]);
  });
});

describe("its size", () => {
  it("is that of the outline, whatever was typed before it was drawn", () => {
    const drawn = { ...draft, shape: "outline" as const, points_m: square, area_m2: 9, depth_max_mm: 32 };
    const size = sizeOfDrawn(drawn, wall);
    expect(measuredOn(drawn, size)).toMatchObject({ area_m2: 1, depth_max_mm: 32, length_m: null });
    expect(refusalOf(size)).toBeNull();
  });
  it("is as given under a pin", () => {
    const pin = { ...draft, points_m: square.slice(0, 1), area_m2: 0.3 };
    expect(measuredOn(pin, sizeOfDrawn(pin, wall)).area_m2).toBe(0.3);
  });
  it("of an outline that crosses itself is refused", () => {
    const crossed: WallPoint[] = [[1, 1], [2, 2], [2, 1], [1, 2]];
    expect(refusalOf(sizeOfDrawn({ view: "seen", shape: "outline", points_m: crossed }, wall))).toBe("outline_crosses_itself");
  });
  it("seen steeply is a warning and no refusal", () => {
    const round: Elevation = { ...wall, surface: { kind: "round_wall", radius_m: 2, height_m: 2 } };
    const edge = sizeOfDrawn({ view: "seen", shape: "outline", points_m: [[1.96, 0.5], [1.99, 0.5], [1.99, 1.5]] }, round);
    expect(edge?.warnings).toEqual(["steep_view"]);
    expect(refusalOf(edge)).toBeNull();
  });
});

describe("what is asked", () => {
  it("follows the kind, and without one the shape", () => {
    expect(questionsFor(["depth", "length"], "pin")).toEqual(["depth", "length"]);
    expect(questionsFor(null, "line")).toEqual(["crack_width", "length"]);
    expect(questionsFor(null, "pin")).toEqual(["area", "depth"]);
    expect(questionsFor([], "pin")).toEqual([]);
  });
});

describe("what is kept", () => {
  it("leaves empty what nobody answered", () => {
    const mark = { view: "seen" as const, shape: "pin" as const, points_m: square.slice(0, 1) };
    expect(defectFields({ ...draft, note: "  ", kind: null }, mark)).toEqual({ elevation_id: "e", kind: null, mark, cause: null, signs: null, note: null });
  });
  it("is a whole defect after five taps without typing", () => {
    // 1 "Mark a defect", 2 the wall, 3 the kind, 4 its size, 5 "Keep".
    const wallTapped = { ...emptyMark("e"), points_m: square.slice(0, 1) };
    const tapped = { ...wallTapped, kind: "spalling", area_m2: 0.3 };
    const mark = markOfDrawn(tapped);
    expect(mark && defectFields(tapped, mark)).toMatchObject({ elevation_id: "e", kind: "spalling", mark: { shape: "pin", points_m: [[1, 1]] } });
    expect(measuredOn(tapped, sizeOfDrawn(tapped, wall))).toMatchObject({ area_m2: 0.3, depth_max_mm: null });
    expect(refusalOf(sizeOfDrawn(tapped, wall))).toBeNull();
  });
  it("gives the facts for urgency before anything is kept", () => {
    const facts = draftFacts({ ...draft, points_m: square.slice(0, 1), depth_max_mm: 40, signs: ["bare_earth"] }, [], { elevation: wall, structure: undefined, finishes: [] }, {});
    expect(facts).toMatchObject({ kind: "washout", signs: ["bare_earth"], depth_max_mm: 40, cover_mm: null, area_m2: null });
    expect(draftFacts(draft, [], { elevation: wall, structure: undefined, finishes: [] }, {})).toBeNull();
  });
});
