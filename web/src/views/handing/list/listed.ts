/** The tickets of a hand-out in its order, as far as they are on this phone. */
import type { Handout, Id, Ticket, TicketState } from "../../../model/types";
import { row, table } from "../../../store";
import { ticketState } from "../../../parts/judged";
import { type Known, engineerFirst, knownOf } from "../../../parts/ticket/gathered";

/** Those that still run, the latest day first. */
export const runningHandouts = (): Handout[] =>
  [...table("handout").value.values()].filter((one) => one.ended_on === null).sort((a, b) => (a.on < b.on ? 1 : a.on > b.on ? -1 : a.id < b.id ? -1 : 1));

export type ListedJob = { id: Id; place: number; ticket: Ticket | null; known: Known[]; state: TicketState; engineer: boolean };

export function listedOf(handout: Pick<Handout, "ticket_ids">): ListedJob[] {
  return handout.ticket_ids.map((id, n) => {
    const ticket = row("ticket", id) ?? null;
    const known = ticket ? knownOf(ticket.defect_ids) : [];
    return { id, place: n + 1, ticket, known, state: ticket ? ticketState(ticket) : "open", engineer: ticket !== null && engineerFirst(ticket.method, known) };
  });
}

export const isThrough = (job: ListedJob): boolean => job.state === "done" || job.state === "checked";
/** What is to be worked on: all but what waits for an engineer. */
export const toDo = (jobs: readonly ListedJob[]): ListedJob[] => jobs.filter((job) => !job.engineer && job.ticket !== null);
/** The first that is not done. */
export const nextOf = (jobs: readonly ListedJob[]): ListedJob | null => toDo(jobs).find((job) => !isThrough(job)) ?? null;
