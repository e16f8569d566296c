/** Tickets that changed hands: steps made by others that were not there before. */
import type { Id, Step } from "../types";

/** Of the steps there are now, those by others that were not there before; also remembers all of them. */
export function newSteps(known: Set<Id>, steps: Iterable<Step>, person: string | null): Step[] {
  const fresh = [...steps].filter((step) => !known.has(step.id));
  for (const step of fresh) known.add(step.id);
  return fresh.filter((step) => step.made_by !== person);
}
