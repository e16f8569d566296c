/** The board's view of all tickets: counted, late, to look at again, changed hands. */
import { type Counted, type Overdue, overdue } from "../../../model/closing/board";
import { type Due, recheckDue } from "../../../model/closing/recheck";
import { dayOf } from "../../../model/storm/limits";
import type { Step, Ticket } from "../../../model/types";
import { me, nowIso, readDraft, saveDraft, table } from "../../../store";
import { stepsOf } from "../../../store/lookup";
import { type Listed, listed } from "../TicketRow";

export type Boarded = { one: Listed; counted: Counted; late: Overdue | null; due: Due | null };

function countedOf(one: Listed): Counted {
  const { ticket, urgency, state, known } = one;
  const area_m2 = known.reduce((all, { judged }) => all + (judged.size.area_m2 ?? 0), 0);
  return { id: ticket.id, urgency, opened_on: dayOf(ticket.made_at), area_m2, steps: stepsOf(ticket.id), state };
}

/** Every ticket of the site, numbered ones first. */
export function boarded(): Boarded[] {
  const today = dayOf(nowIso());
  const storms = [...table("storm").value.values()];
  const rains = storms.filter((one) => one.rain_mm !== 0).map((one) => one.began_on);
  return [...table("ticket").value.values()].map(listed).sort((a, b) => a.turn - b.turn).map((one) => {
    const counted = countedOf(one);
    return { one, counted, late: overdue(counted, today, rains), due: one.state === "checked" ? recheckDue(counted.steps, storms, today) : null };
  });
}

const SEEN_KEY = "board/hands";
type Seen = { until: string };

/** Steps by others that came since this person last said "seen"; by the time the server or the other phone gave them. */
export function handsChanged(): { ticket: Ticket; step: Step }[] {
  const until = readDraft<Seen>(SEEN_KEY)?.until ?? "";
  const tickets = table("ticket").value;
  return [...table("step").value.values()]
    .filter((step) => step.made_by !== me.value?.person && step.at > until)
    .sort((a, b) => (a.at < b.at ? 1 : -1))
    .flatMap((step) => {
      const ticket = tickets.get(step.ticket_id);
      return ticket ? [{ ticket, step }] : [];
    });
}

/** Steps later than the newest shown stay unseen, even if a clock is wrong. */
export function markHandsSeen(): void {
  const [newest] = handsChanged();
  if (newest) void saveDraft<Seen>(SEEN_KEY, { until: newest.step.at });
}
