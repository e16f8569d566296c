/** What may be done with a ticket now, by its state and the person's role. */
import type { StepKind, Ticket, TicketState } from "../../model/types";
import { nowIso, put, role } from "../../store";
import { vocabularyWord } from "../../words/vocabulary";
import { Button } from "../../parts/frame/Button";
import { go } from "../../parts/frame/route";
import { mayStep } from "./may";

/** Taking a ticket says all there is to say; every other step has a note or a photo to give. */
function take(ticket: Ticket, kind: StepKind): void {
  if (kind === "taken") void put("step", null, { ticket_id: ticket.id, kind, at: nowIso() });
  else go(`/ticket/${ticket.id}?step=${kind}`);
}

export function TicketDeeds({ ticket, state }: { ticket: Ticket; state: TicketState }) {
  const steps = mayStep(role.value, state);
  if (steps.length === 0) return null;
  return (
    <>
      {steps.map((kind, i) => (
        <Button key={kind} kind={i === 0 && kind !== "reopened" ? "primary" : "quiet"} onPress={() => take(ticket, kind)}>{vocabularyWord("steps", kind, "do")}</Button>
      ))}
    </>
  );
}
