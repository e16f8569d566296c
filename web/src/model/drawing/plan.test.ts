import { describe, expect, it } from "vitest";
import { anchorOf, boxOf, gather, meets, nearestToward, placeTags, simplify, stepFrom, tidyFree, toMm } from "./plan";
import type { WallPoint } from "../types";

describe("a free line", () => {
  const wobbly: WallPoint[] = Array.from({ length: 101 }, (_, i) => [i / 50, 0.004 * Math.sin(i)]);

  it("keeps its ends and drops what strays less than the tolerance", () => {
    expect(simplify(wobbly, 0.01)).toEqual([wobbly[0], wobbly[100]]);
  });

  it("keeps a corner that sticks out", () => {
    expect(simplify([[0, 0], [1, 0.001], [2, 1], [3, 0.001], [4, 0]], 0.05)).toEqual([[0, 0], [1, 0.001], [2, 1], [3, 0.001], [4, 0]]);
  });

  it("never strays more than 2 % of its size from what was drawn", () => {
    const circle: WallPoint[] = Array.from({ length: 200 }, (_, i) => [Math.cos(i / 31.83), Math.sin(i / 31.83)]);
    const tidy = tidyFree(circle, true);
    expect(tidy.length).toBeLessThan(30);
    const off = Math.max(...circle.map((p) => Math.min(...tidy.map((a, i) => {
      const b = tidy[(i + 1) % tidy.length] as WallPoint;
      const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
      const along = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)));
      return Math.hypot(p[0] - a[0] - along * dx, p[1] - a[1] - along * dy);
    }))));
    expect(off).toBeLessThan(0.042);
  });

  it("does not repeat the first corner of an outline that was closed by hand", () => {
    const square: WallPoint[] = [[0, 0], [1, 0], [1, 1], [0, 1], [0.01, 0.02]];
    expect(tidyFree(square, true)).toHaveLength(4);
    expect(tidyFree(square, false)).toHaveLength(5);
  });

  it("is kept to the millimetre", () => {
    expect(toMm([1.23449, -0.0001])).toEqual([1.234, 0]);
  });
});

describe("marks on the drawing", () => {
  it("stand at the middle of a line and of an outline's box", () => {
    expect(anchorOf([[0, 0], [1, 0], [1, 2], [1, 4]], "line")).toEqual({ x: 1, y: 1 });
    expect(anchorOf([[0, 0], [2, 0], [1, 4]], "outline")).toEqual({ x: 1, y: 2 });
  });

  it("gather into crowds that lose nobody", () => {
    const spots = Array.from({ length: 700 }, (_, i) => ({ x: (i * 37) % 100, y: (i * 61) % 50 }));
    const crowds = gather(spots, 10);
    expect(crowds.reduce((sum, crowd) => sum + crowd.members.length, 0)).toBe(700);
    expect(crowds.length).toBeLessThanOrEqual(50);
  });

  it("are reached by arrows: the nearest that way, none beyond the last", () => {
    const spots = [{ x: 0, y: 0 }, { x: 1, y: 0.1 }, { x: 3, y: 0 }, { x: 0, y: 2 }];
    expect(nearestToward(spots, 0, "right")).toBe(1);
    expect(nearestToward(spots, 1, "right")).toBe(2);
    expect(nearestToward(spots, 0, "up")).toBe(3);
    expect(nearestToward(spots, 0, "down")).toBe(-1);
  });

  it("have numbers that do not cover one another while there is room", () => {
    const tags = [[0, 0], [0.1, 0], [0.2, 0.05]].map(([x = 0, y = 0]) => ({ box: boxOf([[x, y]]), width: 0.3, height: 0.2 }));
    const spots = placeTags(tags, 0.02).filter((spot) => spot !== null);
    expect(spots).toHaveLength(3);
    const boxes = spots.map(({ x, y }) => ({ x0: x - 0.149, x1: x + 0.149, y0: y - 0.099, y1: y + 0.099 }));
    for (const [i, box] of boxes.entries()) for (const other of boxes.slice(i + 1)) expect(meets(box, other)).toBe(false);
  });

  it("go without a number where a crowd leaves no room", () => {
    const tags = Array.from({ length: 40 }, () => ({ box: boxOf([[0, 0]]), width: 0.3, height: 0.2 }));
    const placed = placeTags(tags, 0.02);
    expect(placed.filter((spot) => spot !== null).length).toBeLessThan(9);
    expect(placed[0]).not.toBeNull();
  });

  it("have a scale bar of a round length", () => {
    expect(stepFrom([0.1, 0.5, 1, 5], 0.6)).toBe(1);
    expect(stepFrom([0.1, 0.5, 1, 5], 50)).toBe(5);
  });
});
