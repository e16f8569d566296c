/** How pressing what is still to be mended is; nothing where the work is done. */
import type { Ticket, TicketState } from "../../model/types";
import { t } from "../../words";
import { Chip, UrgencyChip } from "../frame/Card";
import { notJudged } from "../judged";
import { type Known, ticketUrgency } from "./gathered";

export const finished = (state: TicketState): boolean => state === "done" || state === "checked";

export function PressingChip({ ticket, known, state }: { ticket: Ticket; known: readonly Known[]; state: TicketState }) {
  if (finished(state)) return null;
  const unjudged = ticket.urgency === null && known.length > 0 && known.every((one) => notJudged(one.defect.kind, one.judged));
  return unjudged ? <Chip>{t("standing_unjudged")}</Chip> : <UrgencyChip urgency={ticketUrgency(ticket, known)} />;
}
