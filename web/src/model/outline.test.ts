import { describe, expect, test } from "vitest";
import areas from "../../../shared/vectors/area.json";
import lengths from "../../../shared/vectors/length.json";
import { crossesItself, openingsOverlap, reckonArea, reckonLength } from "./outline";
import { Refusal } from "./refusal";
import type { XY } from "./surface";
import type { Surface, View } from "./types";

type Out = Record<string, number | string[]>;
type Case = { name: string; in: { surface: unknown; view: string; outline_m?: unknown; line_m?: unknown }; out?: Out; error?: string };

function codeOf(deed: () => unknown): string {
  try {
    deed();
  } catch (error) {
    if (error instanceof Refusal) return error.code;
    throw error;
  }
  return "not refused";
}

function expectSame(got: Out, expected: Out, tolerance: number) {
  expect(Object.keys(got).sort()).toEqual(Object.keys(expected).sort());
  for (const [name, value] of Object.entries(expected)) {
    if (typeof value !== "number") expect(got[name]).toEqual(value);
    else expect(Math.abs((got[name] as number) - value) / value).toBeLessThanOrEqual(tolerance);
  }
}

const area = ({ surface, view, outline_m }: Case["in"]) => reckonArea(surface as Surface, view as View, outline_m as XY[] | undefined);
const length = ({ surface, view, line_m }: Case["in"]) => reckonLength(surface as Surface, view as View, line_m as XY[]);

describe.each([
  ["area", areas.cases as Case[], area, areas.tolerance, 60],
  ["length", lengths.cases as Case[], length, lengths.tolerance, 15],
] as const)("%s", (_what, cases, reckon, tolerance, least) => {
  test.each(cases.map((one) => [one.name, one] as const))("%s", (_name, one) => {
    if (one.error) expect(codeOf(() => reckon(one.in))).toBe(one.error);
    else expectSame(reckon(one.in), one.out!, tolerance);
  });

  test("there are vectors enough", () => {
    expect(cases.length).toBeGreaterThanOrEqual(least);
  });
});

const dome: Surface = { kind: "dome", shape: "hemisphere", radius_m: 3 };
const round = (n: number, x = 0.2, y = 1.5): XY[] => Array.from({ length: n }, (_, k) => [x + 1.2 * Math.cos((2 * Math.PI * k) / n), y + Math.sin((2 * Math.PI * k) / n)]);

describe("reckonArea", () => {
  test("a point a millimetre off the wall is taken, two are not", () => {
    const flat: Surface = { kind: "flat", width_m: 4, height_m: 3, batter_deg: 0 };
    expect(reckonArea(flat, "seen", [[-0.001, 0], [1, 0], [1, 1], [-0.001, 1]]).area_m2).toBeCloseTo(1, 9);
    expect(codeOf(() => reckonArea(flat, "seen", [[-0.002, 0], [1, 0], [1, 1]]))).toBe("outline_leaves_wall");
  });

  test("where it is drawn from changes nothing, nor the direction", () => {
    const points = round(9), turned = [...points.slice(4), ...points.slice(0, 4)];
    const { area_m2 } = reckonArea(dome, "seen", points);
    expect(reckonArea(dome, "seen", turned).area_m2 / area_m2).toBeCloseTo(1, 11);
    expect(reckonArea(dome, "seen", [...points].reverse()).area_m2 / area_m2).toBeCloseTo(1, 11);
  });

  test("12 corners on a dome take under 2 ms", () => {
    const points = round(12);
    for (let k = 0; k < 50; k++) reckonArea(dome, "seen", points);
    const begun = performance.now();
    for (let k = 0; k < 100; k++) reckonArea(dome, "seen", points);
    expect((performance.now() - begun) / 100).toBeLessThan(2);
  });

  test("500 corners are checked for crossing and reckoned", () => {
    const points = round(500);
    expect(crossesItself(points)).toBe(false);
    expect(reckonArea(dome, "seen", points).as_drawn_m2).toBeCloseTo(250 * 1.2 * Math.sin((2 * Math.PI) / 500), 9);
  });
});

describe("openingsOverlap", () => {
  const window: XY[] = [[1, 1.5], [2, 1.5], [2, 3], [1, 3]];

  test("on a flat wall, what lies over the window", () => {
    const flat: Surface = { kind: "flat", width_m: 5, height_m: 3, batter_deg: 0 };
    expect(openingsOverlap(flat, "seen", [[0.8, 1], [2.2, 1], [2.2, 2.2], [0.8, 2.2]], [window, [[4, 0], [4.5, 0], [4.5, 2]]])).toBeCloseTo(0.7, 12);
  });

  test("on a dome, an outline within a window is all window", () => {
    const inside: XY[] = [[1.2, 1.6], [1.8, 1.6], [1.5, 2]];
    expect(openingsOverlap(dome, "seen", inside, [window])).toBeCloseTo(reckonArea(dome, "seen", inside).area_m2, 12);
  });

  test("drawn from above it is not reckoned", () => {
    expect(openingsOverlap(dome, "above", [[0, 0], [1, 0], [0, 1]], [window])).toBeNull();
  });
});
