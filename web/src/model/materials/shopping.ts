/** Several estimates to one shopping list: merged first, rounded up once. Twin of science/shopping.py. */
import type { Material } from "../catalogue";
import type { Range } from "../types";
import { wholeUnits } from "./batch";
import type { MaterialNeed, MixNeed } from "./job";
import { plus } from "./range";

/** What a site buys a material in, and what it pays for one bag. */
export type Bags = Record<string, { bag_kg: number; price: number | null }>;
export type Purchase = {
  need: MaterialNeed;
  bag_kg: number | null;
  /** Whole bags, or whole pieces of what is counted; null where it is bought loose. */
  bags: number | null;
  /** In the material's unit: bags x bag size, or the high side of the need. */
  buy: number;
  left: number;
  price: number | null;
  carry_kg: number;
};

const both = (one: Range | null, other: Range | null): Range | null => (one && other ? plus(one, other) : (one ?? other));

/** Add up what several repairs need, material by material, unrounded. */
export function mergeNeeds(needs: readonly Record<string, MaterialNeed>[]): Record<string, MaterialNeed> {
  const merged: Record<string, MaterialNeed> = {};
  for (const [id, need] of needs.flatMap((one) => Object.entries(one))) {
    const before = merged[id];
    merged[id] = before
      ? { unit: need.unit, amount: plus(before.amount, need.amount), l: both(before.l, need.l), damp_l: both(before.damp_l, need.damp_l) }
      : need;
  }
  return merged;
}

/** Add up how much of each mix several repairs lay. */
export function mergeMixes(needs: readonly (readonly MixNeed[])[]): Record<string, Range> {
  const merged: Record<string, Range> = {};
  for (const need of needs.flat()) merged[need.mix] = both(merged[need.mix] ?? null, need.wet_l) ?? need.wet_l;
  return merged;
}

/** What to buy so as not to run short: the high side of the need in whole bags of the site's own size. */
export function shoppingList(merged: Record<string, MaterialNeed>, materials: Record<string, Material>, own: Bags): Record<string, Purchase> {
  return Object.fromEntries(Object.entries(merged).map(([id, need]) => [id, purchase(need, materials[id], own[id])]));
}

function purchase(need: MaterialNeed, material: Material | undefined, own: Bags[string] | undefined): Purchase {
  const bag_kg = need.unit === "kg" ? (own?.bag_kg ?? material?.bag_kg ?? null) : null;
  const unit = bag_kg ?? (need.unit === "each" ? 1 : null);
  const bags = unit === null ? null : wholeUnits(need.amount.high, unit);
  const buy = bags === null || unit === null ? need.amount.high : bags * unit;
  const price = own?.price == null || bags === null ? null : bags * own.price;
  const carry_kg = need.unit === "kg" ? buy : need.unit === "l" ? buy * (material?.bulk_kg_l?.likely ?? 1) : 0;
  return { need, bag_kg, bags, buy, left: buy - need.amount.likely, price, carry_kg };
}
