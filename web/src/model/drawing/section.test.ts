import { expect, it } from "vitest";
import { bandsOf, depthOfX, layerAt, scaledCoats, xOfDepth } from "./section";

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

const SHEET = { wall_x: 280, room: 240, most: 6, gap: 22 };

it("draws coats to one scale from the wall outwards, as many units for a millimetre in each", () => {
  const { per_mm, coats: drawn } = scaledCoats([12, 8, 4], SHEET);
  expect(per_mm).toBe(6);
  expect(drawn.map(({ x0, x1 }) => [x0, x1])).toEqual([[208, 280], [160, 208], [136, 160]]);
});

it("thick coats fill the room and no more; a wash is as thin beside them as it is", () => {
  const { per_mm, coats: drawn } = scaledCoats([40, 39.75, 0.25], SHEET);
  expect(per_mm).toBe(3);
  expect(drawn.at(-1)).toMatchObject({ x0: 40, x1: 40.75 });
});

it("tags stand apart and on the sheet, in the order of the coats, however thin and however many", () => {
  for (const mm of [[0.25, 0.25, 0.25], [300, 0.25, 0.25, 0.25], Array.from({ length: 10 }, () => 0.25)]) {
    const tags = scaledCoats(mm, SHEET).coats.map((one) => one.tag_x);
    for (const [i, tag] of tags.entries()) {
      expect(tag).toBeGreaterThanOrEqual(SHEET.wall_x - SHEET.room);
      expect(tag).toBeLessThanOrEqual(SHEET.wall_x);
      if (i > 0) expect((tags[i - 1] ?? 0) - tag).toBeGreaterThanOrEqual(SHEET.gap - 1e-9);
    }
  }
});

it("no coats are no bands", () => {
  expect(scaledCoats([], SHEET).coats).toEqual([]);
});
