/** The coats of a ticket as visits: what its parts lay on the same day, and how long the slowest of them waits. */
import type { Cure, Mix } from "../catalogue";
import type { Layer } from "../materials/job";
import { exactly, scaled } from "../materials/range";
import type { Range } from "../types";
import { laidCoats } from "../waiting/laid";
import type { CoatVisit, Laid } from "./hours";
import type { MixWays, Place, Waits } from "./shapes";

type Coat = { laid: Laid; coat: Waits; place: Place };
/** What one part of a ticket lays, with the waits of its method as laid. */
type Stack = { estimate: { layers: readonly Layer[] }; method: { cure: readonly Pick<Cure, "wait" | "days">[] } };

const longest = (waits: readonly Waits[], of: keyof Waits): Range =>
  waits.map((one) => one[of]).reduce((most, one) => (one.likely > most.likely ? one : most));

/** Each lift of a deep fill is a coat of its own; layers of a mix that is not known are left out. */
function coatsOf({ estimate: { layers }, method: { cure } }: Stack, mixes: Record<string, Mix>): Coat[] {
  const known = layers.filter((layer) => mixes[layer.mix]);
  const litres = known.flatMap((layer) => Array.from({ length: layer.lifts }, () => scaled(layer.wet_l, 1 / layer.lifts)));
  return laidCoats(layers, mixes, cure).map(({ mix, part, n, lift, lifts, damp_days, interval_days, frost_free_days }, i) => ({
    laid: { mix, litres: litres[i] ?? exactly(0), laying_l_per_h: mixes[mix]?.laying_l_per_h ?? 0 }, coat: { damp_days, interval_days, frost_free_days },
    place: { part, n, lift, lifts },
  }));
}

/** The visits of several parts, which finish together: the part with fewer coats begins later; named by the part with most. */
export function coatVisits(parts: readonly Stack[], mixes: Record<string, Mix>): CoatVisit[] {
  const stacks = parts.map((part) => coatsOf(part, mixes));
  const most = Math.max(0, ...stacks.map((stack) => stack.length));
  const whole = stacks.find((stack) => stack.length === most) ?? [];
  return Array.from({ length: most }, (_, visit) => {
    const here = stacks.flatMap((stack) => stack[visit - (most - stack.length)] ?? []);
    const waits = here.map((one) => one.coat);
    return {
      place: whole[visit]?.place,
      laid: here.map((one) => one.laid),
      coat: { damp_days: longest(waits, "damp_days"), interval_days: longest(waits, "interval_days"), frost_free_days: longest(waits, "frost_free_days") },
    };
  });
}

/** Vessel and working time of every mix, at its shortest. */
export const mixWays = (mixes: Record<string, Mix>): Record<string, MixWays> =>
  Object.fromEntries(Object.entries(mixes).map(([id, mix]) => [id, { container_l: mix.container_l, working_h: mix.working_h.low }]));
