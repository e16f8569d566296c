/** Rows found by what they belong to: the readings of a defect, the steps of a ticket. Indexes follow their tables by themselves. */
import { type ReadonlySignal, computed } from "@preact/signals";
import type { Defect, Elevation, Finish, Id, Note, Photo, Reading, RowType, Rows, Step, Structure, Ticket } from "../model/types";
import { row, table } from "./view";

type Groups<T> = ReadonlySignal<ReadonlyMap<Id, readonly T[]>>;
const NONE: readonly never[] = [];

function grouped<T extends RowType>(type: T, owners: (one: Rows[T]) => readonly Id[], order: (one: Rows[T]) => string): Groups<Rows[T]> {
  return computed(() => {
    const groups = new Map<Id, Rows[T][]>();
    const sorted = [...table(type).value.values()].sort((a, b) => (order(a) < order(b) ? -1 : order(a) > order(b) ? 1 : a.id < b.id ? -1 : 1));
    for (const one of sorted) {
      for (const owner of owners(one)) {
        const group = groups.get(owner);
        if (group) group.push(one);
        else groups.set(owner, [one]);
      }
    }
    return groups;
  });
}

const byName = (one: { name: string }) => one.name.toLowerCase();
const elevations = grouped("elevation", (one) => [one.structure_id], byName);
const finishes = grouped("finish", (one) => [one.elevation_id], (one) => one.made_on ?? "");
const defects = grouped("defect", (one) => [one.elevation_id], (one) => one.made_at);
const readings = grouped("reading", (one) => [one.defect_id], (one) => one.at);
const surveyReadings = grouped("reading", (one) => (one.survey_id ? [one.survey_id] : []), (one) => one.at);
const tickets = grouped("ticket", (one) => one.defect_ids, (one) => one.made_at);
const steps = grouped("step", (one) => [one.ticket_id], (one) => one.at);
const photos = grouped("photo", (one) => [one.of_id], (one) => one.taken_at ?? one.made_at);
const notes = grouped("note", (one) => [one.of_id], (one) => one.at);
const clashes = grouped("clash", (one) => (one.chosen ? [] : [one.of_id]), (one) => one.made_at);

export const elevationsOf = (structure: Id): readonly Elevation[] => elevations.value.get(structure) ?? NONE;
export const finishesOf = (elevation: Id): readonly Finish[] => finishes.value.get(elevation) ?? NONE;
export const defectsOf = (elevation: Id): readonly Defect[] => defects.value.get(elevation) ?? NONE;
/** Oldest first. */
export const readingsOf = (defect: Id): readonly Reading[] => readings.value.get(defect) ?? NONE;
export const readingsIn = (survey: Id): readonly Reading[] => surveyReadings.value.get(survey) ?? NONE;
export const ticketsOf = (defect: Id): readonly Ticket[] => tickets.value.get(defect) ?? NONE;
/** Oldest first. */
export const stepsOf = (ticket: Id): readonly Step[] => steps.value.get(ticket) ?? NONE;
export const photosOf = (owner: Id): readonly Photo[] => photos.value.get(owner) ?? NONE;
export const notesOf = (owner: Id): readonly Note[] => notes.value.get(owner) ?? NONE;
/** Clashes nobody has decided yet. */
export const clashesOf = (owner: Id): readonly Rows["clash"][] => clashes.value.get(owner) ?? NONE;

export function structureOf(elevation: Elevation | undefined): Structure | undefined {
  return row("structure", elevation?.structure_id);
}

/** The finish that lies on the whole elevation or on a region of it and has not been taken off; the latest made wins. */
export function standingFinishes(elevation: Id): readonly Finish[] {
  return finishesOf(elevation).filter((one) => one.ended_on === null);
}
