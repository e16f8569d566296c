/** The coats of a ticket as visits: what its parts lay on the same day, and how long the slowest of them waits. */
import type { Mix } from "../catalogue";
import type { Layer } from "../materials/job";
import { scaled } from "../materials/range";
import type { Range } from "../types";
import type { CoatVisit, Laid } from "./hours";
import type { MixWays, Waits } from "./shapes";

type Coat = { laid: Laid; coat: Waits };

const longest = (waits: readonly Waits[], of: keyof Waits): Range =>
  waits.map((one) => one[of]).reduce((most, one) => (one.likely > most.likely ? one : most));

/** Each lift of a deep fill is a coat of its own; layers of a mix that is not known are left out. */
function coatsOf(layers: readonly Layer[], mixes: Record<string, Mix>): Coat[] {
  return layers.flatMap((layer): Coat[] => {
    const mix = mixes[layer.mix];
    if (!mix) return [];
    const { low, likely, high } = mix.frost_free_days ?? mix.interval_days;
    const laid = { mix: layer.mix, litres: scaled(layer.wet_l, 1 / layer.lifts), laying_l_per_h: mix.laying_l_per_h };
    const coat = { damp_days: mix.damp_days, interval_days: mix.interval_days, frost_free_days: { low, likely, high } };
    return Array.from({ length: layer.lifts }, () => ({ laid, coat }));
  });
}

/** The visits of several parts, which finish together: the part with fewer coats begins later. */
export function coatVisits(parts: readonly (readonly Layer[])[], mixes: Record<string, Mix>): CoatVisit[] {
  const stacks = parts.map((layers) => coatsOf(layers, mixes));
  const most = Math.max(0, ...stacks.map((stack) => stack.length));
  return Array.from({ length: most }, (_, visit) => {
    const here = stacks.flatMap((stack) => stack[visit - (most - stack.length)] ?? []);
    const waits = here.map((one) => one.coat);
    return {
      laid: here.map((one) => one.laid),
      coat: { damp_days: longest(waits, "damp_days"), interval_days: longest(waits, "interval_days"), frost_free_days: longest(waits, "frost_free_days") },
    };
  });
}

/** Vessel and working time of every mix, at its shortest. */
export const mixWays = (mixes: Record<string, Mix>): Record<string, MixWays> =>
  Object.fromEntries(Object.entries(mixes).map(([id, mix]) => [id, { container_l: mix.container_l, working_h: mix.working_h.low }]));
