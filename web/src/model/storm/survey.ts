/** What a survey found: its readings against the looks before it, what is still to look at, and counts of both. */
import { type Growth, type Look, compareReadings } from "../growth";
import type { Id, Reading, ReadingState, Survey } from "../types";
import { dayOf } from "./limits";

const inOrder = (readings: readonly Reading[]) =>
  [...readings].sort((a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.id < b.id ? -1 : 1));

/** Several looks as one, at the time of the last: each answer the latest given. */
function together(looks: readonly Reading[]): Look | null {
  return looks.reduce<Look | null>((sum, one) => ({
    id: one.id, at: one.at, state: one.state ?? sum?.state ?? null,
    area_m2: one.area_m2 ?? sum?.area_m2 ?? null, length_m: one.length_m ?? sum?.length_m ?? null,
    depth_max_mm: one.depth_max_mm ?? sum?.depth_max_mm ?? null, crack_width_mm: one.crack_width_mm ?? sum?.crack_width_mm ?? null,
    count: one.count ?? sum?.count ?? null,
  }), null);
}

/** What one defect's readings in a survey say against the last look before them; `growth` null: looked at, but nothing can be said. Null: not looked at. */
export function foundIn(survey: Id, readings: readonly Reading[]): { growth: Growth | null } | null {
  const sorted = inOrder(readings);
  const first = sorted.findIndex((one) => one.survey_id === survey);
  const now = together(sorted.filter((one) => one.survey_id === survey));
  if (!now) return null;
  const before = sorted[first - 1];
  return { growth: compareReadings(before ? [before, now] : [now]) };
}

export type Tally = Record<ReadingState | "looked", number>;

/** How many defects a survey found in which state; `looked` are those of which no more can be said. */
export function tally(found: readonly { growth: Growth | null }[]): Tally {
  const counts: Tally = { new: 0, grown: 0, held: 0, repaired: 0, looked: 0 };
  for (const one of found) counts[one.growth?.state ?? "looked"] += 1;
  return counts;
}

/** Whether a defect's very first reading belongs to one of these surveys. */
export function firstSeenIn(surveys: ReadonlySet<Id>, readings: readonly Reading[]): boolean {
  const survey = inOrder(readings)[0]?.survey_id;
  return survey ? surveys.has(survey) : false;
}

/** Whether a defect was known before the survey began and has no reading in it. A survey written up on another day began with its day. */
export function stillToLook(survey: Survey, defect: { made_at: string }, readings: readonly Reading[]): boolean {
  if (readings.some((one) => one.survey_id === survey.id)) return false;
  const known = inOrder(readings)[0]?.at ?? defect.made_at;
  return dayOf(survey.made_at) === survey.on ? Date.parse(known) < Date.parse(survey.made_at) : dayOf(known) < survey.on;
}

/** How many of each kind, most first. */
export function countKinds(defects: readonly { kind: string | null }[]): { kind: string | null; n: number }[] {
  const counts = new Map<string | null, number>();
  for (const { kind } of defects) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  return [...counts].map(([kind, n]) => ({ kind, n })).sort((a, b) =>
    b.n - a.n || Number(a.kind === null) - Number(b.kind === null) || String(a.kind).localeCompare(String(b.kind)));
}
