import { describe, expect, it } from "vitest";
import { drewAnew } from "../defect";
import type { Elevation, Reading } from "../types";
import { EMPTY_READING, isBlankReading, readMeasures, readingFields, suggestState } from "./reading";

const row = { site_id: "s", rev: 1, made_at: "2026-10-09T10:00:00Z", made_by: "Ana" };
const wall: Elevation = {
  ...row, id: "e", structure_id: "t", name: "south", bearing_deg: 180, openings: null, backdrop: null,
  surface: { kind: "flat", width_m: 6, height_m: 3, batter_deg: 0 },
};
const first: Reading = {
  ...row, id: "r1", defect_id: "d", survey_id: null, at: "2026-10-09T10:00:00Z", mark: null, area_m2: 0.5, length_m: null, depth_mean_mm: null,
  depth_max_mm: 32, crack_width_mm: null, count: null, state: "new", note: null,
};
const square = { view: "seen" as const, shape: "outline" as const, points_m: [[1, 1], [2, 1], [2, 2], [1, 2]] as const };

describe("a second look", () => {
  it("says nothing while nothing is entered", () => {
    expect(isBlankReading(EMPTY_READING)).toBe(true);
    expect(suggestState(EMPTY_READING, [first], wall)).toBeNull();
    expect(readingFields(EMPTY_READING, [first], wall)).toMatchObject({ state: null, mark: null, note: null, depth_max_mm: null });
  });
  it("finds that it has grown, or held, by the numbers", () => {
    expect(suggestState({ ...EMPTY_READING, depth_max_mm: 40 }, [first], wall)).toMatchObject({ state: "grown", changes: { depth_max_mm: { before: 32, now: 40 } } });
    expect(suggestState({ ...EMPTY_READING, depth_max_mm: 33 }, [first], wall)?.state).toBe("held");
  });
  it("compares with a reading dated in the future by a wrong clock", () => {
    const ahead = { ...first, at: "2031-01-01T00:00:00Z" };
    expect(suggestState({ ...EMPTY_READING, depth_max_mm: 40 }, [ahead], wall)?.state).toBe("grown");
  });
  it("keeps the person's own word over the numbers", () => {
    expect(readingFields({ ...EMPTY_READING, depth_max_mm: 40, state: "held" }, [first], wall).state).toBe("held");
    expect(readingFields({ ...EMPTY_READING, depth_max_mm: 40 }, [first], wall).state).toBe("grown");
  });
  it("takes the area of an outline drawn anew", () => {
    const redrawn = { ...EMPTY_READING, redrawn: { ...square, points_m: [...square.points_m] }, area_m2: 9 };
    expect(readMeasures(redrawn, wall).area_m2).toBe(1);
    expect(readingFields(redrawn, [first], wall)).toMatchObject({ state: "grown", mark: { shape: "outline" } });
  });
});

describe("a mark drawn anew", () => {
  const defect = { mark: square };
  const with_mark = (id: string, mark: Reading["mark"]): Reading => ({ ...first, id, mark });
  const moved = { ...square, points_m: [[1, 1], [2, 1], [2, 2], [0.9, 2]] as const };
  it("is none by the first reading, whose drawing nobody had before", () => {
    expect(drewAnew(defect, [with_mark("r1", moved)])).toBe(false);
    expect(drewAnew(defect, [])).toBe(false);
  });
  it("is one only where a later reading differs from what stood until then", () => {
    expect(drewAnew(defect, [first, with_mark("r2", moved)])).toBe(true);
    expect(drewAnew(defect, [first, with_mark("r2", { ...square, points_m: [...square.points_m] })])).toBe(false);
    expect(drewAnew(defect, [with_mark("r1", moved), with_mark("r2", { ...moved, points_m: [...moved.points_m] })])).toBe(false);
    expect(drewAnew(defect, [with_mark("r1", moved), with_mark("r2", square)])).toBe(true);
    expect(drewAnew(defect, [with_mark("r1", moved), first])).toBe(false);
  });
});
