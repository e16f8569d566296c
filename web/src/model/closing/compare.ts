/** Amounts really used beside the planned ones, over the dry materials by mass of which both are known. */
import type { MaterialNeed } from "../materials/job";
import type { Used } from "../types";

export type Compared = { used_kg: number; planned_kg: number };

/** Null where nothing can be set side by side. */
export function comparedWith(used: Used | null, planned: Readonly<Record<string, MaterialNeed>>): Compared | null {
  const both = Object.entries(used ?? {}).flatMap(([id, amount]) => {
    const need = planned[id];
    return "kg" in amount && need?.unit === "kg" && need.amount.likely > 0 ? [{ used_kg: amount.kg, planned_kg: need.amount.likely }] : [];
  });
  if (both.length === 0) return null;
  return both.reduce((all, one) => ({ used_kg: all.used_kg + one.used_kg, planned_kg: all.planned_kg + one.planned_kg }), { used_kg: 0, planned_kg: 0 });
}
