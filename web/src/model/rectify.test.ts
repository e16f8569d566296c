import { describe, expect, test } from "vitest";
import vectors from "../../../shared/vectors/rectify.json";
import { applyHomography, homography, invertHomography } from "./rectify";
import { Refusal } from "./refusal";
import type { PhotoPoint, WallPoint } from "./types";

type Case = { name: string; in: { photo: unknown; wall: unknown }; out?: { homography: number[] }; error?: string };
const cases = vectors.cases as Case[];

describe("homography", () => {
  test.each(cases.map((one) => [one.name, one] as const))("%s", (_name, one) => {
    const photo = one.in.photo as PhotoPoint[], wall = one.in.wall as WallPoint[];
    if (one.error) {
      expect(() => homography(photo, wall)).toThrow(expect.objectContaining({ code: one.error }));
      return;
    }
    const matrix = homography(photo, wall);
    expect(matrix).toHaveLength(9);
    one.out!.homography.forEach((h, k) => expect(Math.abs(matrix[k]! - h)).toBeLessThanOrEqual(vectors.tolerance * Math.abs(h) + 1e-12));
    photo.forEach((p, k) => {
      const onWall = applyHomography(matrix, p);
      expect(onWall[0]).toBeCloseTo(wall[k]![0], 9);
      expect(onWall[1]).toBeCloseTo(wall[k]![1], 9);
      const back = applyHomography(invertHomography(matrix), onWall);
      expect(back[0]).toBeCloseTo(p[0], 6);
      expect(back[1]).toBeCloseTo(p[1], 6);
    });
  });

  test("there are vectors enough", () => {
    expect(cases.length).toBeGreaterThanOrEqual(12);
  });
});

test("a point beyond the horizon has no place on the wall", () => {
  const matrix = homography([[300, 2800], [3700, 2800], [2900, 500], [1100, 500]], [[0, 0], [4, 0], [4, 2.5], [0, 2.5]]);
  expect(() => applyHomography(matrix, [2000, -20000])).toThrow(Refusal);
});

test("what flattens the wall to a line cannot be turned back", () => {
  expect(() => invertHomography([1, 1, 0, 1, 1, 0, 0, 0, 1])).toThrow(Refusal);
});
