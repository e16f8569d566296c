/** How many hours a repair takes, visit by visit. Twin of science/planning/hours.py; all rates are assumed, see shared/work_rates.json. */
import { plus, scaled, times, total } from "../materials/range";
import type { Range } from "../types";
import type { Place, Visit, Waits } from "./shapes";

export const ANYBODY = "anyone";

/** Area to coat, length, number; 0 is not known or none. */
export type WorkSize = { area_m2: number; length_m: number; count: number };
export type MethodRates = { per_m2: Range | null; per_m: Range | null; per_each: Range | null; per_ticket: Range | null };
/** `prepare_skill`: what preparing asks for where laying asks for more. */
export type Rates = { prepare_skill: string; set_up_h: Range; mixing_h_per_l: { mixer: Range; by_hand: Range }; laying_factor: Range };
export type Ways = { skill: string; mixer: boolean };
export type Laid = { mix: string; litres: Range; laying_l_per_h: number };
/** One coat or lift of a ticket: the mixes of its parts, and the waiting times of the slowest. */
export type CoatVisit = { laid: Laid[]; coat: Waits; place?: Place };

/** Hours by size alone; null where the method goes by a size that nobody has told. */
export function sizeHours(size: WorkSize, method: MethodRates): Range | null {
  const found = method.per_ticket ? [method.per_ticket] : [];
  const rates: [Range | null, number][] = [[method.per_m2, size.area_m2], [method.per_m, size.length_m], [method.per_each, size.count]];
  for (const [rate, measure] of rates) {
    if (rate === null) continue;
    if (measure <= 0) return null;
    found.push(scaled(rate, measure));
  }
  return found.length > 0 ? total(found) : null;
}

/** The visits of one ticket in order, coats innermost first; none where its size is not known. */
export function visitsOf(size: WorkSize, coats: readonly CoatVisit[], method: MethodRates, rates: Rates, ways: Ways): Visit[] {
  const bySize = sizeHours(size, method);
  if (bySize === null) return [];
  const simple = coats.length === 0 || ways.skill === ANYBODY;
  const first: Visit = {
    kind: coats.length > 0 ? "prepare" : "work", skill: simple ? ways.skill : rates.prepare_skill, hours: plus(rates.set_up_h, bySize), portions: [], coat: null,
  };
  return [first, ...coats.map((coat, place) => lay(coat, place > 0, rates, ways))];
}

function lay(coat: CoatVisit, comesBack: boolean, rates: Rates, ways: Ways): Visit {
  const mixing = rates.mixing_h_per_l[ways.mixer ? "mixer" : "by_hand"];
  const parts = coat.laid.map((one) => times(one.litres, plus(scaled(rates.laying_factor, 1 / one.laying_l_per_h), mixing)));
  return {
    kind: "lay", skill: ways.skill, hours: total(comesBack ? [rates.set_up_h, ...parts] : parts), coat: coat.coat,
    portions: coat.laid.map((one) => ({ mix: one.mix, litres: one.litres.likely })),
    ...(coat.place ? { place: coat.place } : {}),
  };
}
