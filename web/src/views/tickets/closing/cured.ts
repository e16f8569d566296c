/** Until when the work of a ticket cures and must not freeze, counted from the day it was done. */
import { type DatedStep, curingPlan } from "../../../model/waiting/curing";
import type { Step, Ticket } from "../../../model/types";
import { catalogue } from "../../../store";
import { coatsOf } from "../../../parts/waiting/CuringCard";
import { reckon } from "../../../parts/ticket/gathered";

/** Likely last days, as 2026-04-01. */
export type Cure = { damp_until: string; frost_free_until: string };

/**
 * The coats may have been laid over weeks; "done" is told on the day of the last one. So only the last coat's days
 * count from there. Null for work without coats, or where it cannot be reckoned.
 */
export function cureOf(ticket: Ticket, done: Step | null): Cure | null {
  const reckoned = reckon(ticket, catalogue.value);
  if (!done || !reckoned || !("repair" in reckoned)) return null;
  const last = coatsOf(reckoned.repair).at(-1);
  if (!last) return null;
  const { steps } = curingPlan(done.at.slice(0, 10), [last], []);
  const until = (kind: DatedStep["kind"]): string | undefined => steps.find((step) => step.kind === kind)?.likely;
  const [damp_until, frost_free_until] = [until("damp_until"), until("frost_free_until")];
  return damp_until && frost_free_until ? { damp_until, frost_free_until } : null;
}

export const curedOn = (ticket: Ticket, done: Step | null): string | null => cureOf(ticket, done)?.damp_until ?? null;
