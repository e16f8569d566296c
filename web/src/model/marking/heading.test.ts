import { describe, expect, it } from "vitest";
import { cameraHeading, headingOf } from "./heading";

const upright = (facing_deg: number) => cameraHeading(360 - facing_deg, 90, 0);

describe("the way the camera looks", () => {
  it.each([0, 45, 90, 180, 225, 300])("of a phone held upright towards %i degrees", (facing) => {
    expect(upright(facing)).toBeCloseTo(facing, 6);
  });
  it("stays the same when the upright phone is turned on its side", () => {
    // On its side with the camera to the north: alpha 90, beta 0, gamma -90 turns the upper edge west and the back north.
    expect(cameraHeading(90, 0, -90)).toBeCloseTo(0, 6);
  });
  it("is that of the upper edge where the phone lies flat", () => {
    expect(cameraHeading(0, 5, 0)).toBeCloseTo(0, 6);
    expect(cameraHeading(270, 0, 0)).toBeCloseTo(90, 6);
  });
  it("looks up at a dome without turning round", () => {
    expect(cameraHeading(360 - 225, 120, 0)).toBeCloseTo(225, 6);
  });
});

describe("an orientation event", () => {
  it("counts only where it is measured against north", () => {
    expect(headingOf({ absolute: false, alpha: 10, beta: 90, gamma: 0 })).toBeNull();
    expect(headingOf({ absolute: true, alpha: null, beta: 90, gamma: 0 })).toBeNull();
    expect(headingOf({ absolute: true, alpha: 270, beta: 90, gamma: 0 })).toBeCloseTo(90, 6);
  });
  it("on an iPhone brings the heading itself, unless it is not trusted", () => {
    expect(headingOf({ alpha: 1, beta: 2, gamma: 3, webkitCompassHeading: 361, webkitCompassAccuracy: 10 })).toBe(1);
    expect(headingOf({ alpha: 1, beta: 2, gamma: 3, webkitCompassHeading: 90, webkitCompassAccuracy: -1 })).toBeNull();
  });
});
