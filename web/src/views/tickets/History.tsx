/** What has happened to a ticket, oldest first: who, when, what they wrote, and the photos of the step. */
import { type TicketStates, stateOf } from "../../model/ticket";
import type { Step, Ticket } from "../../model/types";
import { catalogue } from "../../store";
import { photosOf, stepsOf } from "../../store/lookup";
import { t } from "../../words";
import { showDate, showTime } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { Card } from "../../parts/frame/Card";
import { PhotoStrip } from "../../parts/photo/PhotoStrip";
import { ticketName } from "../../parts/ticket/gathered";
import { StepFacts } from "./closing/StepFacts";

type LineProps = { words: string; at: string; who: string; note?: string | null; step?: Step; about: string; refused?: boolean; ticket: Ticket };

function Line({ words, at, who, note, step, about, refused, ticket }: LineProps) {
  return (
    <li>
      <p><strong>{words}</strong> <small class="block">{who} · {showDate(at)}, {showTime(at)}</small></p>
      {refused ? <p class="wrong">{t("step_not_counted")}</p> : null}
      {step ? <StepFacts ticket={ticket} step={step} /> : null}
      {note ? <p class="ticket-note">{note}</p> : null}
      {step && photosOf(step.id).length > 0 ? <PhotoStrip ownerId={step.id} about={`${about}, ${words}`} /> : null}
    </li>
  );
}

export function History({ ticket }: { ticket: Ticket }) {
  const steps = stepsOf(ticket.id);
  const states = catalogue.value?.states as TicketStates | undefined;
  const refused = states ? stateOf(steps, states).refused : [];
  const about = ticketName(ticket);
  return (
    <Card title={t("history_title")}>
      <ol class="history">
        <Line words={t("history_opened")} at={ticket.made_at} who={ticket.made_by} about={about} ticket={ticket} />
        {steps.map((step) => (
          <Line key={step.id} words={vocabularyWord("steps", step.kind, "did")} at={step.at} who={step.made_by} note={step.note} step={step} about={about} refused={refused.includes(step.id)} ticket={ticket} />
        ))}
      </ol>
    </Card>
  );
}
