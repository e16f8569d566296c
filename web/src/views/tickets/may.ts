/** What a role may do with tickets, read from the same table the server checks by. */
import type { Role, StepKind, TicketState } from "../../model/types";
import { type TicketStates, nextSteps } from "../../model/ticket";
import { rightsOf } from "../../parts/may";
import { catalogue } from "../../store";

export const mayMake = (role: Role | null): boolean => rightsOf(role)?.make.includes("ticket") ?? false;
export const mayEdit = (role: Role | null): boolean => rightsOf(role)?.edit.includes("ticket") ?? false;

/** The steps this role may take next, in the order of the table. */
export function mayStep(role: Role | null, state: TicketState): StepKind[] {
  const states = catalogue.value?.states as TicketStates | undefined;
  const allowed = rightsOf(role)?.steps ?? [];
  return states ? nextSteps(state, states).filter((step) => allowed.includes(step)) : [];
}
