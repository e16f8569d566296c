/**
 * Layers of a repair to what is laid one after another: a filling lift by lift, without a number; true coats numbered from the wall outwards;
 * each with the days of its mix, or the method's where those are longer. Twin of science/laid.py, held to it by shared/vectors/laid.json.
 */
import type { Cure, Mix } from "../catalogue";
import type { Layer } from "../materials/job";
import type { Range } from "../types";

export type Days = { damp_days: Range; interval_days: Range; frost_free_days: Range };
/** `n` counts true coats from 1 and is null for a filling; `lift` of `lifts` counts from 1; thickness of this coat or lift, null where it has none. */
export type Laid = Days & { mix: string; part: Layer["part"]; n: number | null; lift: number; lifts: number; thickness_mm: number | null };
type DaysOfMix = Pick<Mix, "damp_days" | "interval_days" | "frost_free_days">;

/** The lines of a method's cure that hold for its filling whichever coats somebody chose. */
export const OF_FILLING: readonly (string | null | undefined)[] = ["lift", "filling"];

/** What is laid, innermost first; layers of a mix that is not known are left out. */
export function laidCoats(layers: readonly Pick<Layer, "mix" | "part" | "thickness_mm" | "lifts">[], mixes: Record<string, DaysOfMix>, cure: readonly Pick<Cure, "wait" | "days">[] = []): Laid[] {
  let n = 0;
  const coats = layers.flatMap((layer): Laid[] => {
    const mix = mixes[layer.mix];
    if (!mix) return [];
    const number = layer.part === "coat" ? (n += 1) : null;
    return Array.from({ length: layer.lifts }, (_, lift) => ({
      mix: layer.mix, part: layer.part, n: number, lift: lift + 1, lifts: layer.lifts, thickness_mm: layer.thickness_mm === null ? null : layer.thickness_mm / layer.lifts,
      ...daysOf(mix),
    }));
  });
  return coats.map((coat, i) => cure.reduce((now, wait) => raised(now, wait, i === coats.length - 1), coat));
}

/** A catalogue kept from before the frost figures came has none; until the next connection the wait before the next coat stands in. */
const daysOf = ({ damp_days, interval_days, frost_free_days }: DaysOfMix): Days => ({ damp_days: plain(damp_days), interval_days: plain(interval_days), frost_free_days: plain(frost_free_days ?? interval_days) });
const plain = ({ low, likely, high }: Range): Range => ({ low, likely, high });

function raised(coat: Laid, { wait, days }: Pick<Cure, "wait" | "days">, last: boolean): Laid {
  const of = whichDays(coat, wait, last);
  return of ? { ...coat, [of]: longer(coat[of], days) } : coat;
}

/** The days of a coat that a line of cure speaks of; null for those of others. */
function whichDays(coat: Laid, wait: Cure["wait"], last: boolean): keyof Days | null {
  if (wait === "frost") return "frost_free_days";
  if (wait === "last") return last ? "damp_days" : null;
  const lift = coat.part === "dub_out";
  const meets =
    (wait === "lift" && lift) || (wait === "filling" && lift && coat.lift === coat.lifts) || (wait === "coat_1" && coat.n === 1) || (wait === "coat_2" && coat.n === 2) ||
    (wait === "between" && coat.n !== null);
  return meets ? "interval_days" : null;
}

/** The longer of two waits, end by end. */
export const longer = (one: Range, other: Range): Range => ({ low: Math.max(one.low, other.low), likely: Math.max(one.likely, other.likely), high: Math.max(one.high, other.high) });

/** Whether all of these mixes are without lime; nothing at all is not earth. */
export function laysEarth(ids: readonly string[], mixes: Record<string, Pick<Mix, "hazards">>): boolean {
  const known = ids.flatMap((id) => mixes[id] ?? []);
  return known.length > 0 && !known.some((mix) => mix.hazards.includes("lime_burns"));
}
