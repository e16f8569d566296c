/** Coats and waiting of a repair: what is laid on which day, counted from the first, by the rule of curing.ts. Twin of domain/repair/waits.py. */
import type { Mix } from "../catalogue";
import type { Layer } from "../materials/job";
import { exactly, plus, scaled } from "../materials/range";
import type { Coat, Range } from "../types";
import { daysToNext, wholeDays } from "./curing";
import type { Laid } from "./laid";

/** Lifts of one filling, thin coats of one wash, or one coat. */
export type Wait = {
  mix: string;
  part: Layer["part"];
  /** The number of the first true coat of it; null for a filling. */
  first_n: number | null;
  /** Of one lift or coat; null for what has no thickness. */
  thickness_mm: number | null;
  times: number;
  /** Days from the first work to the first of it, between one and the next of it, before what follows, and kept damp. */
  starts_days: Range;
  next_days: Range;
  after_days: Range;
  damp_days: Range;
};

/** What is laid as it follows each other; lifts of a filling and coats of one wash are told once with their number. */
export function waitsOf(coats: readonly Laid[], mixes: Record<string, Pick<Mix, "kind">>): Wait[] {
  const waits: Wait[] = [];
  let starts_days = exactly(0);
  coats.forEach((coat, i) => {
    const damp_days = wholeDays(coat.damp_days);
    const after_days = daysToNext(coat);
    const [last, before] = [waits.at(-1), coats[i - 1]];
    if (last && before && goesOn(before, coat, mixes)) {
      waits[waits.length - 1] = { ...last, times: last.times + 1, next_days: last.times === 1 ? last.after_days : last.next_days, after_days, damp_days };
    } else waits.push({ mix: coat.mix, part: coat.part, first_n: coat.n, thickness_mm: coat.thickness_mm, times: 1, starts_days, next_days: after_days, after_days, damp_days });
    starts_days = plus(starts_days, after_days);
  });
  return waits;
}

const goesOn = (before: Laid, coat: Laid, mixes: Record<string, Pick<Mix, "kind">>): boolean =>
  before.mix === coat.mix && before.part === coat.part && (coat.lift > 1 || (coat.part === "coat" && mixes[coat.mix]?.kind === "wash"));

/** What a litre of wash leaves has no thickness of its own; drawn, each coat of it is this thick (assumed). */
const WASH_MM = 0.25;

/** One layer of a drawing: the numbers of its first and last true coat, null for a filling. */
export type DrawnCoat = Coat & { first_n: number | null; last_n: number | null };

/** What is laid, from the wall outwards, for a drawing: lifts of one mix as one layer; what only fills a crack or a hole is none. */
export function layersOf(waits: readonly Wait[]): DrawnCoat[] {
  return waits.filter((one) => one.part !== "fill").map(({ mix, thickness_mm, times, first_n }) => ({
    mix, thickness_mm: (thickness_mm ?? WASH_MM) * times, first_n, last_n: first_n === null ? null : first_n + times - 1,
  }));
}

/** Days from the first work until the last coat need not be kept damp any more. */
export function lastDay(waits: readonly Wait[]): Range {
  const last = waits.at(-1);
  return last ? plus(plus(last.starts_days, scaled(last.next_days, last.times - 1)), last.damp_days) : exactly(0);
}
