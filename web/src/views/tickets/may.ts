/** What a role may do with tickets, read from the same table the server checks by. */
import type { Role, RowType, StepKind, TicketState } from "../../model/types";
import { type TicketStates, nextSteps } from "../../model/ticket";
import { catalogue } from "../../store";
import { vocabularyList } from "../../words/vocabulary";

type Rights = { make: RowType[]; edit: RowType[]; drop: RowType[]; steps: StepKind[] };

function rightsOf(role: Role | null): Rights | null {
  const roles = (catalogue.value?.roles as { roles?: Record<string, Rights> } | undefined)?.roles;
  return (role && roles?.[role]) ?? null;
}

export const mayMake = (role: Role | null): boolean => rightsOf(role)?.make.includes("ticket") ?? false;
export const mayEdit = (role: Role | null): boolean => rightsOf(role)?.edit.includes("ticket") ?? false;

/** The steps this role may take next, in the order of the vocabulary (the table's own order is lost on the wire). */
export function mayStep(role: Role | null, state: TicketState): StepKind[] {
  const states = catalogue.value?.states as TicketStates | undefined;
  const allowed = rightsOf(role)?.steps ?? [];
  const turn = (step: StepKind) => vocabularyList("steps").findIndex((one) => one.id === step);
  return states ? nextSteps(state, states).filter((step) => allowed.includes(step)).sort((a, b) => turn(a) - turn(b)) : [];
}
