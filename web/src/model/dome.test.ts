import { describe, expect, test } from "vitest";
import { cap, lancet, profile, type Round } from "./dome";

const shapes: [string, Round][] = [
  ["hemisphere", cap(3, 3)], ["cap", cap(3, 2)], ["bulging cap", cap(2, 3.2)], ["lancet", lancet(3, 6)], ["lancet that is a hemisphere", lancet(3, 3)],
  ["cone", profile([[2, 0], [0, 3]])], ["profile", profile([[2.4, 0], [2.4, 0.6], [2.1, 1.7], [1.2, 2.8], [0.25, 3.3]])],
];

/** Midpoint rule from bend to bend, with ends drawn in so that the roots at foot and crown do no harm. */
function integral(f: (z: number) => number, { breaks }: Round, from: number, to: number): number {
  const cuts = [...breaks.filter((z) => from < z && z < to), to];
  return cuts.reduce((sum, high, k) => sum + smooth(f, k ? cuts[k - 1]! : from, high), 0);
}

function smooth(f: (z: number) => number, low: number, high: number, n = 20000): number {
  let sum = 0;
  for (let k = 0; k < n; k++) {
    const s = (k + 0.5) / n;
    sum += f(low + (high - low) * s * s * (3 - 2 * s)) * 6 * s * (1 - s);
  }
  return (sum * (high - low)) / n;
}

describe.each(shapes)("%s", (_name, round) => {
  test("whole area is what the meridian weight adds up to", () => {
    expect((2 * Math.PI * integral(round.weight, round, 0, round.height)) / round.area).toBeCloseTo(1, 6);
  });

  test("silhouette is what the radius adds up to", () => {
    expect((2 * integral(round.radius, round, 0, round.height)) / round.silhouette).toBeCloseTo(1, 6);
  });

  test("height from above undoes the radius", () => {
    for (const share of [0.6, 0.75, 0.9, 0.99]) {
      const z = round.height * share;
      expect(round.heightAt(round.radius(z))).toBeCloseTo(z, 9);
      expect(round.fall(round.radius(z)) * -round.slope(z)).toBeCloseTo(1, 6);
    }
  });

  test("area round the axis is what the rings above a height add up to", () => {
    const z = round.height * 0.7, rho = round.radius(z);
    expect((round.crown(rho) * rho * rho) / integral(round.weight, round, z, round.height)).toBeCloseTo(1, 6);
  });
});

test("a lancet reckons on both sides of where its closed form cancels alike", () => {
  const round = lancet(3, 6);
  expect(round.crown(0.02 * 3 - 1e-9) / round.crown(0.02 * 3 + 1e-9)).toBeCloseTo(1, 8);
});
