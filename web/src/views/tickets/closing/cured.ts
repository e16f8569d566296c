/** Until when the work of a ticket cures, counted from the day it was done. */
import { dateOfDay, curingPlan, dayNumber } from "../../../model/waiting/curing";
import type { Step, Ticket } from "../../../model/types";
import { catalogue } from "../../../store";
import { coatsOf } from "../../../parts/waiting/CuringCard";
import { reckon } from "../../../parts/ticket/gathered";

/**
 * The coats may have been laid over weeks; "done" is told on the day of the last one. So only the last coat's damp days
 * count from there. Null for work without coats, or where it cannot be reckoned.
 */
export function curedOn(ticket: Ticket, done: Step | null): string | null {
  const reckoned = reckon(ticket, catalogue.value);
  if (!done || !reckoned || !("repair" in reckoned)) return null;
  const last = coatsOf(reckoned.repair).at(-1);
  if (!last) return null;
  const start = done.at.slice(0, 10);
  const damp = curingPlan(start, [last], []).steps.find((step) => step.kind === "damp_until");
  return damp ? dateOfDay(dayNumber(damp.likely)) : null;
}
