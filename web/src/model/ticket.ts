/** Where a ticket stands: its steps, folded over the moves that shared/ticket_states.json allows. Twin of domain/ticket.py. */

import type { Id, StepKind, TicketState } from "./types";

/** The first state is the one a new ticket has. */
export type TicketStates = { states: TicketState[]; steps: Record<StepKind, { from: TicketState[]; to: TicketState }> };
export type TicketStep = { kind: string; at: string; id: Id };
export type Standing = { state: TicketState; refused: Id[] };

function moveOf(step: string, states: TicketStates): { from: TicketState[]; to: TicketState } | null {
  return Object.hasOwn(states.steps, step) ? states.steps[step as StepKind] : null;
}

/** Whether a step of this kind may be taken from this state; an unknown kind never may. */
export function legal(state: TicketState, step: string, states: TicketStates): boolean {
  return moveOf(step, states)?.from.includes(state) ?? false;
}

/** The steps a person may take next, in the order of the table. */
export function nextSteps(state: TicketState, states: TicketStates): StepKind[] {
  return (Object.keys(states.steps) as StepKind[]).filter((step) => legal(state, step, states));
}

// A time without a zone is read as UTC, as the server does; a browser alone would take it for local time.
function instantMs(at: string): number {
  return Date.parse(/(Z|[+-]\d\d:?\d\d)$/i.test(at) ? at : `${at}Z`);
}

function byTurn(a: TicketStep, b: TicketStep): number {
  return instantMs(a.at) - instantMs(b.at) || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);
}

/** Fold the steps, oldest first (equal instants by id); a step that is not legal in its turn changes nothing. */
export function stateOf(steps: readonly TicketStep[], states: TicketStates): Standing {
  let state = states.states[0] ?? "open";
  const refused: Id[] = [];
  for (const step of [...steps].sort(byTurn)) {
    const move = moveOf(step.kind, states);
    if (move?.from.includes(state)) state = move.to;
    else refused.push(step.id);
  }
  return { state, refused };
}
