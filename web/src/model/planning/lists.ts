/** From a plan to the lists people get: each person's tickets in the order they come to them. */
import type { Id } from "../types";
import type { Crew, Plan } from "./shapes";

export type PersonList = { person: string; ticket_ids: Id[] };

/**
 * Tickets that are on the lists though no hours could be reckoned for them, as nobody has measured them: who comes first
 * takes them. Behind them what an engineer must see first, so that nobody touches it.
 */
function besides({ left_out }: Plan): Id[] {
  const by = (code: string) => left_out.filter((one) => one.code === code).map((one) => one.job);
  return [...by("no_size"), ...by("engineer_first")];
}

/** One list for each person who has anything planned. */
export function listsOf(plan: Plan, crew: readonly Crew[]): PersonList[] {
  return crew.flatMap(({ person }, n) => {
    const own = plan.days.flatMap((day) => day.blocks.filter((block) => block.worker === n).map((block) => block.job));
    return own.length > 0 ? [{ person, ticket_ids: [...new Set([...own, ...besides(plan)])] }] : [];
  });
}

/** One list for all together, in the order the work begins; empty where there is nothing that may be touched. */
export function listForAll(plan: Plan): Id[] {
  const begun = plan.days.flatMap((day) => [...day.blocks].sort((a, b) => a.from_h - b.from_h || a.worker - b.worker).map((block) => block.job));
  const listed = [...new Set([...begun, ...besides(plan)])];
  const untouched = new Set(plan.left_out.filter((one) => one.code === "engineer_first").map((one) => one.job));
  return listed.some((id) => !untouched.has(id)) ? listed : [];
}
