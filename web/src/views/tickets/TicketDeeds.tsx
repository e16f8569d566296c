/** What may be done with a ticket now, by its state and the person's role. */
import type { StepKind, Ticket, TicketState } from "../../model/types";
import { limited, nowIso, put, role } from "../../store";
import { t } from "../../words";
import { vocabularyWord } from "../../words/vocabulary";
import { Button } from "../../parts/frame/Button";
import { go } from "../../parts/frame/route";
import { ticketName } from "../../parts/ticket/gathered";
import { listedOf, nextOf, runningHandouts } from "../handing/list/listed";
import { mayStep } from "./may";

/** Taking a ticket says all there is to say; every other step has a note or a photo to give. */
function take(ticket: Ticket, kind: StepKind): void {
  if (kind === "taken") void put("step", null, { ticket_id: ticket.id, kind, at: nowIso() });
  else go(`/ticket/${ticket.id}?step=${kind}`);
}

/** From a finished ticket on to the next of the list; after the last, to the list, which says so. */
function Onward() {
  const next = runningHandouts().map((handout) => nextOf(listedOf(handout))).find((job) => job !== null) ?? null;
  return next?.ticket
    ? <Button kind="primary" onPress={() => go(`/ticket/${next.id}`)}>{t("list_next", { ticket: ticketName(next.ticket) })}</Button>
    : <Button kind="primary" onPress={() => go("/list")}>{t("list_deed")}</Button>;
}

export function TicketDeeds({ ticket, state }: { ticket: Ticket; state: TicketState }) {
  const steps = mayStep(role.value, state);
  const through = limited.value && (state === "done" || state === "checked");
  if (steps.length === 0 && !through) return null;
  return (
    <>
      {through ? <Onward /> : null}
      {steps.map((kind, i) => (
        <Button key={kind} kind={i === 0 && kind !== "reopened" ? "primary" : "quiet"} onPress={() => take(ticket, kind)}>{vocabularyWord("steps", kind, "do")}</Button>
      ))}
    </>
  );
}
