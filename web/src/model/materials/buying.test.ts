import { describe, expect, test } from "vitest";
import vectors from "../../../../shared/vectors/estimate.json";
import type { Material } from "../catalogue";
import { leftOver, linesOf, loadsOf, takesAnything, totalsOf } from "./buying";
import type { MaterialNeed } from "./job";
import { mergeNeeds, shoppingList } from "./shopping";

const materials = vectors.catalogue.materials as unknown as Record<string, Material>;
const need = (likely: number, unit: MaterialNeed["unit"] = "kg"): MaterialNeed => ({ unit, amount: { low: likely * 0.8, likely, high: likely * 1.2 }, l: null, damp_l: null });
const own = { nhl_2: { bag_kg: 25, price: 12 }, sharp_sand: { bag_kg: 40, price: null } };
const bought = shoppingList(mergeNeeds([{ nhl_2: need(10), water: need(9, "l") }, { nhl_2: need(9), sharp_sand: need(50), hair: need(0) }]), materials, own);

describe("one list to buy from", () => {
  const lines = linesOf(bought, materials, []);

  test("the heaviest first, without water and without what is not needed", () => {
    expect(lines.map((line) => [line.id, line.bought.bags, line.bought.carry_kg])).toEqual([["sharp_sand", 2, 80], ["nhl_2", 1, 25]]);
    expect(leftOver(lines[1]?.bought as never)).toBeCloseTo(6, 9);
  });

  test("what is ticked off is neither paid nor carried", () => {
    expect(totalsOf(lines)).toEqual({ carry_kg: 105, price: 12, unpriced: 1 });
    expect(totalsOf(linesOf(bought, materials, ["sharp_sand"]))).toEqual({ carry_kg: 25, price: 12, unpriced: 0 });
    expect(totalsOf(linesOf(bought, materials, ["sharp_sand", "nhl_2"]))).toEqual({ carry_kg: 0, price: 0, unpriced: 0 });
  });

  test("a repair takes something, or nothing that is reckoned", () => {
    expect(takesAnything({ hair: need(0), nhl_2: need(10) })).toBe(true);
    expect(takesAnything({ hair: need(0) })).toBe(false);
    expect(takesAnything({})).toBe(false);
  });

  test("loads are equal and no heavier than asked; a bag above it is named", () => {
    expect(loadsOf(lines, 20)).toEqual({ count: 6, each_kg: 17.5, bag_too_heavy: true });
    expect(loadsOf(lines, 40).bag_too_heavy).toBe(false);
    expect(loadsOf(linesOf(bought, materials, ["sharp_sand", "nhl_2"]), 20)).toEqual({ count: 0, each_kg: 0, bag_too_heavy: false });
  });
});
