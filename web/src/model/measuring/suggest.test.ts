import { inflateSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import vectors from "../../../../shared/vectors/colour_region.json";
import { lies } from "../defect";
import { crossesItself } from "../outline";
import type { XY } from "../surface";
import type { WallPoint } from "../types";
import { type Pixels, labOf } from "./colour";
import { regionAt, simplerRing, suggestOutline } from "./suggest";

const { width, height } = vectors;
const unpacked = (text: string) => new Uint8Array(inflateSync(Buffer.from(text, "base64")));

function pictureOf(text: string): Pixels {
  const rgb = unpacked(text), data = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let i = 0; i < width * height; i++) data.set(rgb.subarray(3 * i, 3 * i + 3), 4 * i);
  return { width, height, data };
}

function overlap(one: ArrayLike<number>, other: ArrayLike<number>): number {
  let [both, either] = [0, 0];
  for (let i = 0; i < one.length; i++) {
    if (one[i] && other[i]) both += 1;
    if (one[i] || other[i]) either += 1;
  }
  return both / either;
}

const within = (ring: readonly XY[]) =>
  Uint8Array.from({ length: width * height }, (_, i) => (lies([(i % width) + 0.5, Math.floor(i / width) + 0.5], ring as WallPoint[]) ? 1 : 0));

describe("colours", () => {
  test.each(vectors.lab)("$rgb as OpenCV has them", ({ rgb, lab }) => {
    const found = labOf(rgb[0]!, rgb[1]!, rgb[2]!);
    lab.forEach((one, k) => expect(Math.abs(found[k]! - one)).toBeLessThan(vectors.lab_within));
  });
});

describe("an outline suggested by colour", () => {
  test.each(vectors.cases)("$name", ({ tap, rgb, truth }) => {
    const ring = suggestOutline(pictureOf(rgb), tap as unknown as XY);
    expect(ring.length).toBeLessThanOrEqual(60);
    expect(crossesItself(ring)).toBe(false);
    expect(overlap(within(ring), unpacked(truth))).toBeGreaterThanOrEqual(vectors.least_overlap);
  });
});

/** A wall of one colour with grain from a fixed row of numbers, lighter to the right. */
function plainWall(grain: number, light: number): Pixels {
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  let state = 12345;
  for (let i = 0; i < width * height; i++) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    const shade = (state / 2 ** 32 - 0.5) * 2 * grain + light * ((i % width) / width - 0.5);
    data.set([200 + shade, 184 + shade, 160 + shade], 4 * i);
  }
  return { width, height, data };
}

describe("where no outline is to be found", () => {
  test.each([[0, 0], [4, 0], [12, 0], [6, 30]])("a plain wall with grain %s and light %s is refused", (grain, light) => {
    expect(() => suggestOutline(plainWall(grain, light), [80, 60])).toThrow(expect.objectContaining({ code: "no_region" }));
  });
});

describe("more and less", () => {
  const [first] = vectors.cases;
  const picture = pictureOf(first!.rgb), tap = first!.tap as unknown as XY;
  const size = (steps: number) => regionAt(picture, tap, steps).on.reduce((sum, one) => sum + one, 0);
  test("widen and narrow the region", () => {
    expect(size(2)).toBeGreaterThanOrEqual(size(0));
    expect(size(-6)).toBeLessThan(size(0));
  });
});

test("a long ragged line becomes at most 60 points that do not cross", () => {
  const ragged = Array.from({ length: 720 }, (_, k): XY => {
    const r = 40 + 8 * Math.sin(k / 3) + 3 * Math.cos(k * 1.7), turn = (k * Math.PI) / 360;
    return [80 + r * Math.cos(turn), 60 + r * Math.sin(turn)];
  });
  const ring = simplerRing(ragged);
  expect(ring.length).toBeLessThanOrEqual(60);
  expect(crossesItself(ring)).toBe(false);
});
