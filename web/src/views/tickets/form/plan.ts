/** A ticket while it is being made or changed: what was chosen so far, kept as a draft on each touch. */
import { useRef, useState } from "preact/hooks";
import type { Coat, Fields, Id, Ticket, Urgency } from "../../../model/types";
import { readDraft, saveDraft } from "../../../store";
import { type Known, type Wanted, suggestedFor } from "../../../parts/ticket/gathered";

/** A thickness is null while its field is empty. */
export type PlannedCoat = { mix: string; thickness_mm: number | null };
export type Plan = {
  defect_ids: Id[]; method: string | null; urgency: Urgency | null; coats: PlannedCoat[] | null; loss: number | null; margin_mm: number | null; note: string;
};

/** What the server takes: thickness over 0 to 500 mm, at most 12 coats, loss 0 to 1, margin up to 1000 mm. */
export const MOST_COAT_MM = 500;
export const MOST_COATS = 12;
export const MOST_MARGIN_MM = 1000;

export const EMPTY: Plan = { defect_ids: [], method: null, urgency: null, coats: null, loss: null, margin_mm: null, note: "" };

export function planOf(ticket: Ticket): Plan {
  const { defect_ids, method, urgency, coats, loss, margin_mm, note } = ticket;
  return { defect_ids, method, urgency, coats, loss, margin_mm, note: note ?? "" };
}

const thickOk = (coat: PlannedCoat): coat is Coat => coat.thickness_mm !== null && coat.thickness_mm > 0 && coat.thickness_mm <= MOST_COAT_MM;
export const coatWrong = (coat: PlannedCoat): boolean => !thickOk(coat);
export const lossWrong = (plan: Plan): boolean => plan.loss !== null && !(plan.loss >= 0 && plan.loss <= 1);
export const marginWrong = (plan: Plan): boolean => plan.margin_mm !== null && !(plan.margin_mm >= 0 && plan.margin_mm <= MOST_MARGIN_MM);
export const planWrong = (plan: Plan): boolean => (plan.coats?.some(coatWrong) ?? false) || lossWrong(plan) || marginWrong(plan);

/** The plan as the estimate takes it; fields that are not numbers yet are left to the method. */
export function wantedOf(plan: Plan, known: readonly Known[]): Wanted {
  return {
    defect_ids: plan.defect_ids, method: plan.method ?? suggestedFor(known)?.method ?? null, coats: plan.coats ? plan.coats.filter(thickOk) : null,
    loss: lossWrong(plan) ? null : plan.loss, margin_mm: marginWrong(plan) ? null : plan.margin_mm,
  };
}

/** What a change began from is kept with it: only what differs from that is sent, even when the ticket has moved on since. */
type Draft = { plan: Plan; first: Plan; seen: number };
export type Planned = Draft & { change: (part: Partial<Plan>) => void };

/** A plan kept in the draft `draftKey`; it comes back as it was left unless it was begun for other defects. `seen`: the rev it began from. */
export function usePlan(draftKey: string, first: Plan, seen = 0): Planned {
  const [draft, setDraft] = useState<Draft>(() => {
    const kept = readDraft<Draft>(draftKey);
    const sameDefects = kept !== null && first.defect_ids.every((id) => kept.plan.defect_ids.includes(id) || kept.first.defect_ids.includes(id));
    return kept && sameDefects ? kept : { plan: first, first, seen };
  });
  // What is taken back later is put into the plan as that is then.
  const now = useRef(draft);
  const change = (part: Partial<Plan>) => {
    const next = { ...now.current, plan: { ...now.current.plan, ...part } };
    now.current = next;
    setDraft(next);
    void saveDraft<Draft>(draftKey, next);
  };
  return { ...draft, change };
}

/** The fields of a plan as a ticket row keeps them: an empty field stays with the method. */
export function fieldsOf(plan: Plan, known: readonly Known[]): Fields<"ticket"> {
  const { method, coats, loss, margin_mm } = wantedOf(plan, known);
  return { number: null, defect_ids: plan.defect_ids, method, urgency: plan.urgency, coats, loss, margin_mm, note: plan.note.trim() || null };
}

/** The fields that a person changed since they began; a method that was only suggested counts as chosen once it is kept. */
export function changedFields({ plan, first }: Draft, known: readonly Known[]): Partial<Fields<"ticket">> {
  const before: Record<string, unknown> = { ...fieldsOf(first, known), method: first.method };
  const changed = Object.entries(fieldsOf(plan, known)).filter(([name, value]) => JSON.stringify(value) !== JSON.stringify(before[name]));
  return Object.fromEntries(changed) as Partial<Fields<"ticket">>;
}
