/** One ticket in the list: its kind drawn, its number, where it is, how much, how it stands and who has it. */
import type { Defect, Ticket, TicketState, Urgency } from "../../model/types";
import { stepsOf } from "../../store/lookup";
import { t } from "../../words";
import { KindDrawing } from "../../parts/drawing/KindDrawing";
import { Link } from "../../parts/frame/Link";
import { StateChip } from "../../parts/ticket/StateChip";
import { type Known, engineerFirst, kindsWords, knownOf, sizeWords, ticketName, ticketUrgency, wallWords, wallsWords } from "../../parts/ticket/gathered";
import { ticketState } from "../../parts/judged";

export type Listed = {
  ticket: Ticket; known: Known[]; urgency: Urgency; state: TicketState; engineer: boolean;
  /** Numbered tickets in their order, the phone's own after them. */
  turn: number;
  wallOf: (defect: Defect) => string;
};

const AFTER_ALL = 1e9;

export function listed(ticket: Ticket): Listed {
  const known = knownOf(ticket.defect_ids);
  return {
    ticket, known, urgency: ticketUrgency(ticket, known), state: ticketState(ticket), engineer: engineerFirst(ticket.method, known),
    turn: ticket.number ?? AFTER_ALL + Date.parse(ticket.made_at) / 1e6, wallOf: wallWords,
  };
}

/** Who has it in hand; null for an open or a checked one. */
export function holder(ticket: Ticket, state: TicketState): string | null {
  if (state === "open" || state === "checked") return null;
  return [...stepsOf(ticket.id)].reverse().find((step) => step.kind === state)?.made_by ?? null;
}

export function TicketRow({ one, current }: { one: Listed; current?: boolean }) {
  const { ticket, known, state } = one;
  const who = holder(ticket, state);
  const kind = known[0]?.defect.kind;
  return (
    <li>
      <Link to={`/ticket/${ticket.id}`} class="row-link ticket-row" current={current}>
        <span class="thumb-kind">{kind ? <KindDrawing kind={kind} /> : null}</span>
        <span class="grow">
          <strong>{ticketName(ticket)} · {kindsWords(known)}</strong>
          <small class="block">{[wallsWords(known), sizeWords(known)].filter(Boolean).join(" · ")}</small>
          {one.engineer ? <small class="engineer-mark">{t("engineer_title")}</small> : null}
        </span>
        <span class="ticket-state"><StateChip state={state} />{who ? <small class="block">{who}</small> : null}</span>
      </Link>
    </li>
  );
}
