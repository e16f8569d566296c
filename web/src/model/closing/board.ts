/** The board: what is overdue, how much is open and closed, and how it went week by week. */
import { type TicketStates, stateOf } from "../ticket";
import type { Id, Step, TicketState, Urgency } from "../types";
import { dateOfDay, dayNumber } from "../waiting/curing";

/** One ticket as the board counts it; `area_m2` is 0 where nobody could measure an area. */
export type Counted = { id: Id; urgency: Urgency; opened_on: string; area_m2: number; steps: readonly Step[]; state: TicketState };
export type Overdue = "safe_now" | "rained_on" | "season" | "second_look";
export type Sums = { tickets: number; area_m2: number };
export type Totals = { open: Sums; closed: Sums; reopened: Sums };
export type Week = { ends_on: string; open: Sums };

/** Days until it counts as late; assumed, as no standard sets them. */
export const LATE_DAYS = { make_safe_now: 1, this_season: 120, second_look: 14 } as const;
const WEEK_DAYS = 7;

const daysBetween = (from: string, to: string): number => dayNumber(to) - dayNumber(from);
const lastDay = (one: Counted): string => one.steps.at(-1)?.at.slice(0, 10) ?? one.opened_on;

/** Why a ticket is late by today; null if it is not. `rains` are the days on which storms began. */
export function overdue(one: Counted, today: string, rains: readonly string[]): Overdue | null {
  if (one.state === "checked") return null;
  if (one.state === "done") return daysBetween(lastDay(one), today) > LATE_DAYS.second_look ? "second_look" : null;
  const age = daysBetween(one.opened_on, today);
  if (one.urgency === "make_safe_now") return age > LATE_DAYS.make_safe_now ? "safe_now" : null;
  if (one.urgency === "before_next_rain") return rains.some((day) => day > one.opened_on && day <= today) ? "rained_on" : null;
  return one.urgency === "this_season" && age > LATE_DAYS.this_season ? "season" : null;
}

const sums = (all: readonly Counted[]): Sums => ({ tickets: all.length, area_m2: all.reduce((area, one) => area + one.area_m2, 0) });

/** Reopened ones are counted among the open or closed too: they say how often a repair did not hold. */
export function totals(all: readonly Counted[]): Totals {
  return {
    open: sums(all.filter((one) => one.state !== "checked")), closed: sums(all.filter((one) => one.state === "checked")),
    reopened: sums(all.filter((one) => one.steps.some((step) => step.kind === "reopened"))),
  };
}

/** What was still open at the end of each of the last weeks, the last one ending today. */
export function burnDown(all: readonly Counted[], states: TicketStates, today: string, weeks: number): Week[] {
  const found = Array.from({ length: weeks }, (_, i) => ({ ends_on: dateOfDay(dayNumber(today) - (weeks - 1 - i) * WEEK_DAYS), open: { tickets: 0, area_m2: 0 } }));
  for (const one of all) countOpen(one, states, found);
  return found;
}

/** Add a ticket to the weeks at whose end it was open; its state is worked out again only where a step came in between. */
function countOpen(one: Counted, states: TicketStates, weeks: readonly Week[]): void {
  const days = one.steps.map((step) => step.at.slice(0, 10));
  let taken = 0;
  let closed = false;
  for (const { ends_on, open } of weeks) {
    if (one.opened_on > ends_on) continue;
    const until = days.reduce((n, day) => (day <= ends_on ? n + 1 : n), 0);
    if (until !== taken) closed = stateOf(one.steps.filter((_, n) => (days[n] ?? "") <= ends_on), states).state === "checked";
    taken = until;
    if (closed) continue;
    open.tickets += 1;
    open.area_m2 += one.area_m2;
  }
}
