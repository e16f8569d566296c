import { describe, expect, test } from "vitest";
import vectors from "../../../shared/vectors/estimate.json";
import type { Material, Method, Mix } from "./catalogue";
import { estimate, type Job } from "./estimate";
import { mergeMixes, mergeNeeds, shoppingList } from "./materials/shopping";
import { recipe } from "./materials/batch";
import { Refusal } from "./refusal";

const mixes = vectors.catalogue.mixes as unknown as Record<string, Mix>;
const methods = vectors.catalogue.methods as unknown as Record<string, Method>;
const materials = vectors.catalogue.materials as unknown as Record<string, Material>;
type Case = { name: string; in: { job: Job; method: string }; out?: unknown; error?: string };
const cases = vectors.cases as unknown as Case[];
const methodOf = (id: string): Method => methods[id] as Method;
const run = (one: Case) => estimate(one.in.job, methodOf(one.in.method), mixes, materials);

/** Every number within the file's tolerance, everything else the same. */
function same(got: unknown, expected: unknown, where: string): void {
  if (typeof expected === "number" && typeof got === "number") {
    expect(Math.abs(got - expected), where).toBeLessThanOrEqual(vectors.tolerance * Math.abs(expected) + 1e-12);
  } else if (expected !== null && typeof expected === "object" && got !== null && typeof got === "object") {
    expect(Object.keys(got).sort(), where).toEqual(Object.keys(expected).sort());
    for (const key of Object.keys(expected)) same((got as never)[key], (expected as never)[key], `${where}.${key}`);
  } else expect(got, where).toEqual(expected);
}

describe("estimate.json", () => {
  test.each(cases.filter((one) => !one.error).map((one) => [one.name, one] as const))("%s", (name, one) => same(run(one), one.out, name));

  test.each(cases.filter((one) => one.error).map((one) => [one.name, one] as const))("%s is refused", (_name, one) => {
    let code = "nothing refused";
    try {
      run(one);
    } catch (error) {
      code = error instanceof Refusal ? error.code : String(error);
    }
    expect(code).toBe(one.error);
  });

  test("there are at least 40 cases and every method has one", () => {
    expect(cases.length).toBeGreaterThanOrEqual(40);
    expect(Object.keys(methods).filter((id) => !cases.some((one) => one.in.method === id))).toEqual([]);
  });
});

describe("shopping", () => {
  const patch = (area_m2: number) => estimate({ area_m2, perimeter_m: 1, depth_mean_mm: 24, finish_kind: "lime" }, methodOf("patch_three_coats"), mixes, materials);
  const priced = { ...materials, nhl_2: { ...materials.nhl_2, bag_kg: 25 } as Material };

  test("many small patches are merged before they are rounded", () => {
    const patches = Array.from({ length: 10 }, () => patch(0.1));
    const once = shoppingList(mergeNeeds(patches.map((one) => one.materials)), priced, {}).nhl_2?.bags ?? 0;
    const each = patches.map((one) => shoppingList(one.materials, priced, {}).nhl_2?.bags ?? 0).reduce((a, b) => a + b);
    expect(each).toBe(10);
    expect(once).toBeLessThan(each);
  });

  test("bags of the site's own size and price", () => {
    const need = patch(4).materials;
    const high = need.nhl_2?.amount.high ?? 0;
    const bought = shoppingList(need, priced, { nhl_2: { bag_kg: 20, price: 12.5 } }).nhl_2;
    expect(bought?.bags).toBe(Math.ceil(high / 20));
    expect(bought?.price).toBe(Math.ceil(high / 20) * 12.5);
    expect(bought?.buy).toBeGreaterThanOrEqual(high);
    expect(bought?.carry_kg).toBe(bought?.buy);
  });

  test("mixes of several repairs add up", () => {
    const one = patch(1), two = patch(2);
    const of = (estimated: typeof one) => estimated.mixes.find((need) => need.mix === "lime_coat")?.wet_l.likely ?? NaN;
    expect(mergeMixes([one.mixes, two.mixes]).lime_coat?.likely).toBeCloseTo(of(one) + of(two), 9);
  });

  test("a recipe for the whole mix is the mix's share of the estimate", () => {
    const one = patch(1);
    const need = one.mixes.find((each) => each.mix === "lime_finish");
    const card = recipe(mixes.lime_finish?.per_l ?? {}, need?.wet_l.likely ?? 0);
    const single = estimate({ area_m2: 1, margin_mm: 50, perimeter_m: 1, depth_mean_mm: 4, loss: 0.12, coats: [{ mix: "lime_finish", thickness_mm: 4 }] }, methodOf("patch_three_coats"), mixes, materials);
    expect(card.nhl_2?.kg?.likely).toBeCloseTo(single.materials.nhl_2?.amount.likely ?? NaN, 9);
  });
});
