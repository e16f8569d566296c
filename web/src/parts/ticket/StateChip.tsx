/** Where a ticket stands, as a drawn sign with its word. */
import type { TicketState } from "../../model/types";
import { vocabularyWord } from "../../words/vocabulary";
import "./ticket.css";

/** Empty ring, half, full, full with a tick: told apart without colour. */
const SIGNS: Record<TicketState, string> = { open: "", taken: "M8 2a6 6 0 0 1 0 12z", done: "M8 2a6 6 0 1 1 0 12a6 6 0 1 1 0-12z", checked: "M4.5 8.2l2.6 2.6l4.6-5.4" };

export function StateChip({ state }: { state: TicketState }) {
  return (
    <span class={`state state-${state}`}>
      <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
        <circle cx="8" cy="8" r="6" fill="none" stroke="currentColor" stroke-width="2" />
        <path d={SIGNS[state]} fill={state === "checked" ? "none" : "currentColor"} stroke="currentColor" stroke-width={state === "checked" ? 2.2 : 0} />
      </svg>
      {vocabularyWord("ticket_states", state)}
    </span>
  );
}
