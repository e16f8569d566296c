/** What waits on a ticket: its dates from the first coat, and whether today will do. */
import type { Repair } from "../../model/repair/repair";
import type { Ticket } from "../../model/types";
import { frostFreeDays } from "../../model/waiting/curing";
import { CuringCard, coatsOf } from "./CuringCard";
import { GateCard } from "./GateCard";

export function WaitingCards({ ticket, repair }: { ticket: Ticket; repair: Repair }) {
  const coats = coatsOf(repair);
  if (coats.length === 0) return null;
  return (
    <>
      <CuringCard ticket={ticket} repair={repair} />
      <GateCard of={ticket.id} frost_free_days={frostFreeDays(coats)} />
    </>
  );
}
