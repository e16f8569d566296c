/** Several tickets' needs as one list to buy from: lines with what is still missing, its price, and how it is carried. */
import type { Material } from "../catalogue";
import type { MaterialNeed } from "./job";
import type { Purchase } from "./shopping";
import { wholeUnits } from "./batch";

export type Line = { id: string; material: Material; bought: Purchase; have: boolean };
export type Loads = { count: number; each_kg: number; bag_too_heavy: boolean };
export type Totals = {
  /** What is not ticked off yet. */
  carry_kg: number;
  price: number;
  /** Lines that cost something nobody has written down. */
  unpriced: number;
};

/** What comes from the tap is not bought. */
const FROM_THE_TAP = new Set(["water"]);

/** Lines to buy, the heaviest first; what is not needed at all is left out. */
export function linesOf(purchases: Record<string, Purchase>, materials: Record<string, Material>, have: readonly string[]): Line[] {
  const lines = Object.entries(purchases).flatMap(([id, bought]): Line[] => {
    const material = materials[id];
    return material && bought.buy > 0 && !FROM_THE_TAP.has(id) ? [{ id, material, bought, have: have.includes(id) }] : [];
  });
  return lines.sort((a, b) => b.bought.carry_kg - a.bought.carry_kg || a.id.localeCompare(b.id));
}

/** What is still to be bought and carried of the lines not ticked off. */
export function totalsOf(lines: readonly Line[]): Totals {
  const open = lines.filter((line) => !line.have);
  return {
    carry_kg: open.reduce((sum, line) => sum + line.bought.carry_kg, 0),
    price: open.reduce((sum, line) => sum + (line.bought.price ?? 0), 0),
    unpriced: open.filter((line) => line.bought.price === null).length,
  };
}

/** A weight in equal loads of at most `load_kg`; bags heavier than that are named, as nobody halves a bag on the way. */
export function loadsOf(lines: readonly Line[], load_kg: number): Loads {
  const open = lines.filter((line) => !line.have);
  const { carry_kg } = totalsOf(open);
  const count = wholeUnits(carry_kg, load_kg);
  return { count, each_kg: count ? carry_kg / count : 0, bag_too_heavy: open.some((line) => (line.bought.bag_kg ?? 0) > load_kg) };
}

/** Whether a repair takes anything that is reckoned. */
export const takesAnything = (materials: Record<string, MaterialNeed>): boolean => Object.values(materials).some((need) => need.amount.high > 0);

/** What is likely left over of a line when the work is done. */
export const leftOver = (bought: Purchase): number => Math.max(0, bought.left);
