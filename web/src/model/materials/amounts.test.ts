import { describe, expect, test } from "vitest";
import { bagsFor, bucketsFor, measureOut, roundTo, roundUpTo, usualBucketL, weighOut, wholeAndQuarters } from "./amounts";

const US_GAL = 231 * 0.0254 ** 3 * 1000;

describe("measures at hand", () => {
  test("buckets in quarters", () => {
    expect(measureOut(12.6, 10, "metric")).toEqual({ unit: "bucket", amount: 1.25 });
    expect(measureOut(2.5, 10, "metric")).toEqual({ unit: "bucket", amount: 0.25 });
  });

  test("less than a quarter bucket in cups, less than a cup in spoons", () => {
    expect(measureOut(1.02, 10, "metric")).toEqual({ unit: "cup", amount: 4 });
    expect(measureOut(0.1, 10, "metric")).toEqual({ unit: "tbsp", amount: 6.5 });
  });

  test("a US gallon is 16 cups and 256 tablespoons", () => {
    expect(measureOut(US_GAL, 30, "us")).toEqual({ unit: "cup", amount: 16 });
    expect(measureOut(US_GAL / 256, 30, "us")).toEqual({ unit: "tbsp", amount: 1 });
    expect(usualBucketL("us")).toBeCloseTo(4 * US_GAL, 6);
  });

  test("never nothing of something, never something of nothing", () => {
    expect(measureOut(0.0001, 10, "metric")).toEqual({ unit: "tbsp", amount: 0.5 });
    expect(measureOut(0, 10, "metric").amount).toBe(0);
    expect(roundTo(0.01, 0.25)).toBe(0.25);
  });

  test("masses in the unit a person would say", () => {
    expect(weighOut(0.052, "metric")).toEqual({ unit: "g", amount: 50 });
    expect(weighOut(12.34, "metric").amount).toBeCloseTo(12.3, 9);
    expect(weighOut(0.45359237, "us")).toEqual({ unit: "lb", amount: 1 });
    expect(weighOut(0.45359237 / 4, "us")).toEqual({ unit: "oz", amount: 4 });
  });

  test("bags are whole and never short", () => {
    expect(bagsFor(50, 25)).toBe(2);
    expect(bagsFor(50.001, 25)).toBe(3);
    expect(bagsFor(0, 25)).toBe(0);
    for (let kg = 0.1; kg < 100; kg += 0.7) expect(bagsFor(kg, 20) * 20).toBeGreaterThanOrEqual(kg - 1e-6);
  });

  test("a batch is never told in fewer buckets than hold it", () => {
    // 19.3 L in a bucket of 12 L: one and a half would be 18 L.
    expect(bucketsFor(19.3, 12)).toBe(1.75);
    expect(bucketsFor(18, 12)).toBe(1.5);
    expect(bucketsFor(2.9, 12)).toBeNull();
    for (let volume_l = 3; volume_l < 60; volume_l += 0.7) expect((bucketsFor(volume_l, 12) ?? 0) * 12).toBeGreaterThanOrEqual(volume_l - 1e-6);
  });

  test("rounding up is to the next step only when it must", () => {
    expect(roundUpTo(1.2, 0.25)).toBe(1.25);
    expect(roundUpTo(0.1 + 0.2, 0.1)).toBeCloseTo(0.3, 9);
  });

  test("whole measures and quarters", () => {
    expect(wholeAndQuarters(2.75)).toEqual({ whole: 2, quarters: 3 });
    expect(wholeAndQuarters(0.99)).toEqual({ whole: 1, quarters: 0 });
  });
});
