/** Storms, surveys and what surveys found, looked up for the screens. */
import type { Growth } from "../../model/growth";
import { firstSeenIn, foundIn, stillToLook } from "../../model/storm/survey";
import type { Defect, Elevation, Id, Role, RowType, Storm, Structure, Survey } from "../../model/types";
import { catalogue, role, row, settings, table } from "../../store";
import { readingsIn, readingsOf, structureOf } from "../../store/lookup";
import { t } from "../../words";
import { showDate } from "../../words/measures";

/** Latest first. */
export function stormsByDay(): Storm[] {
  return [...table("storm").value.values()].sort((a, b) => b.began_on.localeCompare(a.began_on) || b.made_at.localeCompare(a.made_at));
}

/** Latest first; those after `storm`, or for null those without a storm (a removed one counts as none). */
export function surveysAfter(storm: Id | null): Survey[] {
  return surveysByDay().filter((one) => (row("storm", one.storm_id)?.id ?? null) === storm);
}

export function surveysByDay(): Survey[] {
  return [...table("survey").value.values()].sort((a, b) => b.on.localeCompare(a.on) || b.made_at.localeCompare(a.made_at));
}

/** The survey running on this phone, if its row is there. */
export const runningSurvey = (): Survey | undefined => row("survey", settings.value.currentSurvey);

export function surveyName(survey: Survey): string {
  const storm = row("storm", survey.storm_id);
  const date = showDate(survey.on);
  return storm ? t("survey_of_after", { date, storm: storm.name }) : t("survey_of", { date });
}

type Rights = Record<Role, { make: string[]; edit: string[]; drop: string[] }>;
/** Whether this device's role may do that; while the roles have not come, the server decides later. */
export function may(deed: "make" | "edit" | "drop", type: RowType): boolean {
  const rights = (catalogue.value?.roles as { roles?: Rights } | undefined)?.roles;
  return role.value && rights ? rights[role.value][deed].includes(type) : true;
}

export type Found = { defect: Defect; growth: Growth | null };
/** Each defect looked at in a survey, with what the survey says of it. */
export function foundOf(survey: Id): Found[] {
  const ids = new Set(readingsIn(survey).map((one) => one.defect_id));
  return [...ids].flatMap((id) => {
    const defect = row("defect", id);
    const found = foundIn(survey, readingsOf(id));
    return defect && found ? [{ defect, growth: found.growth }] : [];
  });
}

export function firstSeenAfter(surveys: readonly Survey[]): Defect[] {
  const ids = new Set(surveys.map((one) => one.id));
  const looked = new Set(surveys.flatMap((one) => readingsIn(one.id).map((reading) => reading.defect_id)));
  return [...looked].flatMap((id) => {
    const defect = row("defect", id);
    return defect && firstSeenIn(ids, readingsOf(id)) ? [defect] : [];
  });
}

/** Defects known before a survey and not looked at in it, on walls that still stand. */
export function toLook(survey: Survey): Defect[] {
  return [...table("defect").value.values()].filter((one) => row("elevation", one.elevation_id) && stillToLook(survey, one, readingsOf(one.id)));
}

export type OnWall<T> = { id: Id; elevation: Elevation | undefined; structure: Structure | undefined; marks: T[] };

/** Gathered by wall as one comes past: structure by structure, and round each by compass; marks by number. */
export function byWall<T extends { defect: Defect }>(marks: readonly T[]): OnWall<T>[] {
  const walls = new Map<Id, OnWall<T>>();
  for (const one of [...marks].sort((a, b) => (a.defect.number ?? Infinity) - (b.defect.number ?? Infinity))) {
    const id = one.defect.elevation_id;
    const elevation = row("elevation", id);
    const wall = walls.get(id) ?? { id, elevation, structure: structureOf(elevation), marks: [] };
    wall.marks.push(one);
    walls.set(id, wall);
  }
  const name = (wall: OnWall<T>) => wall.structure?.name ?? "\uffff";
  return [...walls.values()].sort((a, b) => name(a).localeCompare(name(b)) || (a.elevation?.bearing_deg ?? 0) - (b.elevation?.bearing_deg ?? 0));
}
