/** From a plan to the lists people get: each person's tickets in the order they come to them. */
import type { Id } from "../types";
import type { Crew, Plan } from "./shapes";

export type PersonList = { person: string; ticket_ids: Id[] };

/** One list for each person who has anything to do; what an engineer must see first stands at the end of each, so that nobody touches it. */
export function listsOf(plan: Plan, crew: readonly Crew[], do_not_touch: readonly Id[]): PersonList[] {
  return crew.flatMap(({ person }, n) => {
    const own = plan.days.flatMap((day) => day.blocks.filter((block) => block.worker === n).map((block) => block.job));
    return own.length > 0 ? [{ person, ticket_ids: [...new Set([...own, ...do_not_touch])] }] : [];
  });
}

/** One list for all together, in the order the work begins. */
export function listForAll(plan: Plan, do_not_touch: readonly Id[]): Id[] {
  const begun = plan.days.flatMap((day) => [...day.blocks].sort((a, b) => a.from_h - b.from_h || a.worker - b.worker).map((block) => block.job));
  return [...new Set([...begun, ...do_not_touch])];
}
