import { describe, expect, test } from "vitest";
import { compareReadings, crackClass, type Look } from "./growth";

const none = { area_m2: null, length_m: null, depth_max_mm: null, crack_width_mm: null, count: null, state: null };
const first = (sizes: Partial<Look>): Look => ({ ...none, id: "a", at: "2031-03-01T08:00:00Z", ...sizes });
const later = (sizes: Partial<Look>): Look => ({ ...none, id: "b", at: "2031-10-09T08:00:00Z", ...sizes });

describe("crack class", () => {
  test.each([
    [0, 0], [0.09, 0], [0.1, 1], [1, 1], [1.01, 2], [5, 2], [5.01, 3], [15, 3], [15.01, 4], [25, 4], [25.01, 5], [400, 5],
  ] as const)("%d mm is class %d", (width_mm, expected) => {
    expect(crackClass(width_mm)).toBe(expected);
  });

  test.each([-0.1, NaN])("%d mm is refused", (width_mm) => {
    expect(() => crackClass(width_mm)).toThrow(RangeError);
  });
});

describe("growth between two readings", () => {
  test.each([
    ["area", { area_m2: 1 }, { area_m2: 1.1 }, "held"],
    ["area", { area_m2: 1 }, { area_m2: 1.101 }, "grown"],
    ["area from nothing", { area_m2: 0 }, { area_m2: 0.01 }, "grown"],
    ["area that shrank", { area_m2: 1 }, { area_m2: 0.5 }, "held"],
    ["depth", { depth_max_mm: 20 }, { depth_max_mm: 23 }, "held"],
    ["depth", { depth_max_mm: 20 }, { depth_max_mm: 23.1 }, "grown"],
    ["crack width", { crack_width_mm: 0.3 }, { crack_width_mm: 0.5 }, "held"],
    ["crack width", { crack_width_mm: 0.3 }, { crack_width_mm: 0.6 }, "grown"],
    ["length", { length_m: 2 }, { length_m: 2.2 }, "held"],
    ["length", { length_m: 2 }, { length_m: 2.3 }, "grown"],
    ["count", { count: 4 }, { count: 5 }, "grown"],
    ["count", { count: 4 }, { count: 4 }, "held"],
    ["one of two grew", { area_m2: 1, depth_max_mm: 20 }, { area_m2: 1, depth_max_mm: 30 }, "grown"],
    ["numbers over the word held", { area_m2: 1 }, { area_m2: 2, state: "held" }, "grown"],
    ["the word grown where numbers show little", { area_m2: 1 }, { area_m2: 1.05, state: "grown" }, "grown"],
    ["marked repaired", { area_m2: 1 }, { area_m2: 2, state: "repaired" }, "repaired"],
    ["damage again after a repair", { area_m2: 0, state: "repaired" }, { area_m2: 0.2 }, "new"],
    ["still whole after a repair", { area_m2: 0, state: "repaired" }, { area_m2: 0 }, "repaired"],
    ["repair said to have held", { state: "repaired" }, { state: "held" }, "held"],
    ["no number both times, the word stands", { area_m2: 1 }, { depth_max_mm: 4, state: "held" }, "held"],
  ] as [string, Partial<Look>, Partial<Look>, string][])("%s: %o then %o is %s", (_what, before, now, state) => {
    expect(compareReadings([first(before), later(now)])?.state).toBe(state);
  });

  test("numbers are given with the change", () => {
    const growth = compareReadings([first({ area_m2: 0.5, depth_max_mm: 12 }), later({ area_m2: 0.75, depth_max_mm: 12 })]);
    expect(growth?.changes).toEqual({
      area_m2: { before: 0.5, now: 0.75, by: 0.25, grew: true },
      depth_max_mm: { before: 12, now: 12, by: 0, grew: false },
    });
  });

  test("nothing can be said without a reading, a shared number or a word", () => {
    expect(compareReadings([])).toBeNull();
    expect(compareReadings([first({ area_m2: 1 }), later({ depth_max_mm: 4 })])).toBeNull();
    expect(compareReadings([first({ state: "repaired" }), later({})])).toBeNull();
  });

  test("a single reading is new", () => {
    expect(compareReadings([first({ area_m2: 1 })])).toEqual({ state: "new", changes: {} });
  });

  test("the latest two count, whatever the order they came in", () => {
    const last: Look = { ...none, id: "c", at: "2032-01-01T08:00:00Z", area_m2: 2.1 };
    const growth = compareReadings([last, first({ area_m2: 1 }), later({ area_m2: 2 })]);
    expect(growth?.changes.area_m2).toMatchObject({ before: 2, now: 2.1, grew: false });
    expect(growth?.state).toBe("held");
  });
});
