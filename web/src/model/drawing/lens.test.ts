import { expect, it } from "vitest";
import { AT_REST, centred, enlarge, fitLens, followedBy, settleLens, shownBox, toWall } from "./lens";

const box = { x0: 0, y0: 0, x1: 8, y1: 3 };
const frame = { width_px: 400, height_px: 300 };
const fit = fitLens(box, frame, { left: 40, right: 10, top: 20, bottom: 30 });

it("the whole wall shows inside the frame's margins, at one scale", () => {
  expect(fit.m_per_px).toBeCloseTo(8 / 350, 9);
  const shown = shownBox(fit, frame);
  expect(box.x0 - shown.x0).toBeCloseTo(40 * fit.m_per_px, 9);
  expect(shown.x1 - box.x1).toBeCloseTo(10 * fit.m_per_px, 9);
  expect(shown.y0).toBeLessThan(0);
});

it("enlarging leaves the place under the finger where it was", () => {
  const before = toWall(fit, 200, 150);
  const after = settleLens(fit, enlarge(2, 200, 150), fit, frame, box);
  expect(after.m_per_px).toBeCloseTo(fit.m_per_px / 2, 9);
  const [x, y] = toWall(after, 200, 150);
  expect(x).toBeCloseTo(before[0], 9);
  expect(y).toBeCloseTo(before[1], 9);
});

it("two moves one after the other are one", () => {
  const once = settleLens(fit, enlarge(4, 120, 90), fit, frame, box);
  const twice = settleLens(fit, followedBy(enlarge(2, 120, 90), enlarge(2, 120, 90)), fit, frame, box);
  expect(twice.left_m).toBeCloseTo(once.left_m, 9);
  expect(followedBy(AT_REST, enlarge(2, 5, 6))).toEqual(enlarge(2, 5, 6));
});

it("nobody gets lost: the whole wall is the widest, and the middle of the frame stays on the wall", () => {
  expect(settleLens(fit, enlarge(0.5, 0, 0), fit, frame, box)).toEqual(fit);
  const close = settleLens(fit, enlarge(4, 200, 150), fit, frame, box);
  const far = settleLens(close, { x_px: 99999, y_px: 99999, scale: 1 }, fit, frame, box);
  expect(toWall(far, 200, 150)[0]).toBeCloseTo(0, 9);
  expect(toWall(far, 200, 150)[1]).toBeCloseTo(3, 9);
});

it("a point can be brought to the middle", () => {
  expect(toWall(centred(fit, frame, [2, 1]), 200, 150)).toEqual([expect.closeTo(2, 9), expect.closeTo(1, 9)]);
});
