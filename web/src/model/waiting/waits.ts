/** Coats and waiting of a repair: what is laid on which day, counted from the first, by the rule of curing.ts. */
import type { Mix } from "../catalogue";
import type { Layer } from "../materials/job";
import { exactly, plus, scaled } from "../materials/range";
import type { Coat, Range } from "../types";
import type { Part } from "../repair/repair";
import { daysToNext, wholeDays } from "./curing";

export type Wait = {
  mix: string;
  part: Layer["part"];
  /** Of one lift or coat; null for what has no thickness. */
  thickness_mm: number | null;
  /** Lifts, or thin coats of the same wash one after another. */
  times: number;
  /** Days from the first work to the first lift, between lifts (and before what follows), and kept damp after each. */
  starts_days: Range;
  next_days: Range;
  damp_days: Range;
};

/** The layers of one repair as they follow each other; coats of one wash are told once with their number. */
export function waitsOf(layers: readonly Layer[], mixes: Record<string, Mix>): Wait[] {
  const waits: Wait[] = [];
  let starts_days = exactly(0);
  for (const layer of layers) {
    const mix = mixes[layer.mix];
    if (!mix) continue;
    const damp_days = wholeDays(mix.damp_days);
    const next_days = daysToNext(mix);
    const last = waits.at(-1);
    if (last && last.mix === layer.mix && mix.kind === "wash") waits[waits.length - 1] = { ...last, times: last.times + 1 };
    else {
      const thickness_mm = layer.thickness_mm === null ? null : layer.thickness_mm / layer.lifts;
      waits.push({ mix: layer.mix, part: layer.part, thickness_mm, times: layer.lifts, starts_days, next_days, damp_days });
    }
    starts_days = plus(starts_days, scaled(next_days, layer.lifts));
  }
  return waits;
}

/** What a litre of wash leaves has no thickness of its own; drawn, each coat of it is this thick (assumed). */
const WASH_MM = 0.25;

/** What is laid, from the wall outwards, for a drawing: lifts of one mix as one layer; what only fills a crack or a hole is none. */
export function layersOf(waits: readonly Wait[]): Coat[] {
  return waits.filter((one) => one.part !== "fill").map(({ mix, thickness_mm, times }) => ({ mix, thickness_mm: (thickness_mm ?? WASH_MM) * times }));
}

/** Days from the first work until the last coat need not be kept damp any more. */
export function lastDay(waits: readonly Wait[]): Range {
  const last = waits.at(-1);
  return last ? plus(plus(last.starts_days, scaled(last.next_days, last.times - 1)), last.damp_days) : exactly(0);
}

/** The longest of several repairs on one ticket: the others wait along with it. */
export function longestWait(parts: readonly Part[], mixes: Record<string, Mix>): Wait[] {
  const all = parts.map((part) => waitsOf(part.estimate.layers, mixes));
  return all.reduce<Wait[]>((best, one) => (lastDay(one).likely > lastDay(best).likely ? one : best), []);
}
