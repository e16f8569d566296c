/** What a person enters for a work day, as this phone keeps it until the plan is kept. */
import type { ForecastDay, Id, WorkDay, Worker } from "../../../model/types";
import { dayOf } from "../../../model/storm/limits";
import { catalogue, me, nowIso } from "../../../store";

export type DayDraft = { on: string; crew: Worker[]; mixer: boolean; forecast: ForecastDay[]; ticket_ids: Id[] | null; note: string };
export type ChangeDay = (fields: Partial<DayDraft>) => void;

/** A usual day of volunteers (assumed). */
export const USUAL_HOURS = 6;
export const MOST_PEOPLE = 50;
const NOT_FOR_VOLUNTEERS = ["anyone", "structural_engineer"];

export const draftKey = (id: Id | null): string => `workday/${id ?? "new"}`;
export const skillId = (skill: string): string => skill.replaceAll(" ", "_");

export function beginFrom(day: WorkDay | null): DayDraft {
  return {
    on: day?.on ?? dayOf(nowIso()), mixer: day?.mixer ?? false, forecast: day?.forecast ?? [], ticket_ids: day?.ticket_ids ?? null, note: day?.note ?? "",
    crew: day?.crew ?? [{ person: me.value?.person ?? "", hours: USUAL_HOURS, skills: [] }],
  };
}

/** The fields as they are kept; people without a name are counted in, as "somebody" can work too. */
export const fieldsOf = (draft: DayDraft): Pick<WorkDay, "on" | "crew" | "mixer" | "forecast" | "ticket_ids" | "note"> => ({
  ...draft, note: draft.note.trim() || null,
});

/** Every skill a method asks for that people can tick, in the order of the methods. */
export function skillsToTick(): string[] {
  const all = Object.values(catalogue.value?.methods ?? {}).flatMap((method) => method.skills.map(skillId));
  return [...new Set(all)].filter((skill) => !NOT_FOR_VOLUNTEERS.includes(skill));
}
