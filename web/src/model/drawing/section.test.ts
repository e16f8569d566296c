import { expect, it } from "vitest";
import { bandsOf, depthOfX, layerAt, xOfDepth } from "./section";

const coats = [{ label: "render", thickness_mm: 20 }, { label: "limewash", thickness_mm: 1 }];
const bands = bandsOf(coats, "cob", 0, 320);

it("layers run from the outside in and fill the drawing, a thin coat wide enough for a finger", () => {
  expect(bands.map((band) => band.label)).toEqual(["limewash", "render", "cob"]);
  expect(bands.at(-1)?.x1).toBe(320);
  for (const band of bands) expect(band.x1 - band.x0).toBeGreaterThanOrEqual(48);
});

it("a depth put on the drawing is read off again", () => {
  for (const depth of [0, 1, 7, 21, 53, 121]) expect(depthOfX(bands, xOfDepth(bands, depth))).toBe(depth);
});

it("says which layer it has reached", () => {
  expect(layerAt(bands, 0)).toBeNull();
  expect(layerAt(bands, 0.5)).toEqual({ label: "limewash", bare: false });
  expect(layerAt(bands, 12)).toEqual({ label: "render", bare: false });
  expect(layerAt(bands, 21)).toEqual({ label: "cob", bare: true });
  expect(layerAt(bands, 32)).toEqual({ label: "cob", bare: false });
});

it("makes room for a hole deeper than it usually shows", () => {
  const deep = bandsOf(coats, "cob", 300, 320);
  expect(xOfDepth(deep, 300)).toBeLessThan(320);
});

it("a bare wall is one layer", () => {
  expect(bandsOf([], "cob", 0, 320)).toEqual([{ label: "cob", from_mm: 0, to_mm: 100, x0: 0, x1: 320 }]);
});

it("six coats still leave the wall its place", () => {
  const many = bandsOf(Array.from({ length: 6 }, (_, i) => ({ label: String(i), thickness_mm: 5 })), "cob", 0, 320);
  expect(320 - (many.at(-1)?.x0 ?? 0)).toBeGreaterThanOrEqual(127.9);
});
