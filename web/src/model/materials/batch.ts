/** Wet volume to whole batches, and a batch to what goes into the bucket. Twin of science/batch.py. */
import type { PerLitre } from "../catalogue";
import type { BatchPlan } from "./job";
import { scaled } from "./range";

/** Units needed so as not to run short; a billionth over is no reason to buy one more. */
export const wholeUnits = (amount: number, unit: number): number => Math.max(0, Math.ceil(amount / unit - 1e-9));

/** Equal batches, no larger than the vessel nor than what can be laid before it stiffens. */
export function batches(wet_l: number, container_l: number, working_h: number, laying_l_per_h: number): BatchPlan {
  const byTime_l = working_h * laying_l_per_h;
  const count = wholeUnits(wet_l, Math.min(container_l, byTime_l));
  return { count, each_l: count ? wet_l / count : 0, limited_by: container_l <= byTime_l ? "container" : "time" };
}

/** What goes into one batch of `litres` in place, material by material. */
export function recipe(per_l: Record<string, PerLitre>, litres: number): Record<string, PerLitre> {
  return Object.fromEntries(
    Object.entries(per_l).map(([material, each]) => [
      material,
      { kg: each.kg && scaled(each.kg, litres), l: each.l && scaled(each.l, litres) },
    ]),
  );
}
