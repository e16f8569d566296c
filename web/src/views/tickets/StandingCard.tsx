/** How pressing a ticket is (or was) and why, how it stands, and the keeper's word on it. */
import type { Ticket, TicketState } from "../../model/types";
import { BasisMark } from "../../parts/ticket/Basis";
import { PressingChip, finished } from "../../parts/ticket/PressingChip";
import { StateChip } from "../../parts/ticket/StateChip";
import { type Known, pressing, ruleOf, ticketUrgency } from "../../parts/ticket/gathered";
import { t } from "../../words";
import { vocabularyWord } from "../../words/vocabulary";
import { holder } from "./TicketRow";

export function Reasons({ reasons }: { reasons: readonly string[] }) {
  return (
    <ul class="reasons">
      {reasons.map((id) => {
        const rule = ruleOf(id);
        return <li key={id}>{rule.sentence} <BasisMark basis={rule.basis} /></li>;
      })}
    </ul>
  );
}

export function StandingCard({ ticket, known, state }: { ticket: Ticket; known: readonly Known[]; state: TicketState }) {
  const urgency = ticketUrgency(ticket, known);
  const found = pressing(known);
  const who = holder(ticket, state);
  const past = finished(state);
  return (
    <section class="standing">
      <p class="chips" role="status"><PressingChip ticket={ticket} known={known} state={state} /> <StateChip state={state} /> {who ? <span>{who}</span> : null}</p>
      {past ? <p class="hint">{t("urgency_was", { urgency: vocabularyWord("urgencies", urgency).toLocaleLowerCase() })}</p> : null}
      {!past && found && found.urgency !== urgency ? <p class="hint">{t("urgency_set", { suggested: vocabularyWord("urgencies", found.urgency) })}</p> : null}
      {!past && found ? <Reasons reasons={found.reasons} /> : null}
      {ticket.note ? <p class="ticket-note">{ticket.note}</p> : null}
    </section>
  );
}
