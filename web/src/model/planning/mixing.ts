/** What is mixed when: batches shared by patches of one mix on one building, within its working time. Twin of science/planning/mixing.py. */
import { wholeUnits } from "../materials/batch";
import type { Id } from "../types";
import type { Batch, MixWays } from "./shapes";

const NOTHING = 1e-9;
const NOTHING_L = 1e-6;

/** One mix being laid on one ticket from hour to hour. */
export type Stretch = { job: Id; mix: string; place: string; from_h: number; to_h: number; litres: number };
type Limits = { most_l: number; working_h: number };

const before = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** The batches of one day, in order of their time. A batch is made when it is first needed, and ends used up or too old. */
export function shareBatches(stretches: readonly Stretch[], mixes: Record<string, MixWays>): Batch[] {
  const groups = new Map<string, Stretch[]>();
  for (const one of stretches.filter((stretch) => stretch.litres > NOTHING_L)) {
    const key = JSON.stringify([one.mix, one.place]);
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  const found = [...groups.values()].flatMap((group) => {
    const ways = mixes[group[0]?.mix ?? ""];
    return ways ? ofOneMix(group, ways) : [];
  });
  return found.sort((a, b) => a.at_h - b.at_h || before(a.mix, b.mix) || before(a.place, b.place));
}

function ofOneMix(group: readonly Stretch[], ways: MixWays): Batch[] {
  const total_l = group.reduce((sum, one) => sum + one.litres, 0);
  const limits = { most_l: total_l / wholeUnits(total_l, ways.container_l), working_h: ways.working_h };
  const edges = [...new Set(group.flatMap((one) => [one.from_h, one.to_h]))].sort((a, b) => a - b);
  const batches: Batch[] = [];
  edges.slice(1).forEach((end, i) => {
    const begin = edges[i] ?? end;
    const active = group.filter((one) => one.from_h <= begin && end <= one.to_h);
    if (active.length > 0) layOver(batches, active, begin, end, limits);
  });
  return batches;
}

/** Use up batches over a span in which the same tickets are laid all along; makes new ones as needed. */
function layOver(batches: Batch[], active: readonly Stretch[], begin: number, end: number, { most_l, working_h }: Limits): void {
  const rate = active.reduce((sum, one) => sum + one.litres / (one.to_h - one.from_h), 0);
  const first = active[0];
  let at = begin;
  while (first && end - at > NOTHING) {
    let batch = batches.at(-1);
    let until = batch ? Math.min(end, at + (most_l - batch.litres) / rate, batch.at_h + working_h) : at;
    if (!batch || until - at <= NOTHING) {
      batch = { mix: first.mix, place: first.place, at_h: at, until_h: at, litres: 0, jobs: [] };
      batches.push(batch);
      until = Math.min(end, at + most_l / rate, at + working_h);
    }
    batch.litres += rate * (until - at);
    batch.until_h = until;
    for (const { job } of active) if (!batch.jobs.includes(job)) batch.jobs.push(job);
    at = until;
  }
}
