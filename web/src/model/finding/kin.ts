/** What was deleted together: a wall goes with its sides, a side with what was found on it; and comes back with it. */
import type { Id, RowType } from "../types";

export type Gone = { type: RowType; id: Id; fields: Record<string, unknown>; at: string };

/** The field in which a row names what it stands on. */
const STANDS_ON: Partial<Record<RowType, string>> = { elevation: "structure_id", defect: "elevation_id", finish: "elevation_id" };
/** Deletions of one deed have the same instant, or come in one pull. */
const ONE_DEED_MS = 60_000;

const below = (one: Gone): unknown => one.fields[STANDS_ON[one.type] ?? ""] ?? null;
const together = (one: Gone, other: Gone) => Math.abs(Date.parse(one.at) - Date.parse(other.at)) <= ONE_DEED_MS;

/** Deleted rows, each with those that went with it, what stands below first; those that went with another are only there. */
export function deeds<G extends Gone>(gone: readonly G[]): { row: G; with: G[] }[] {
  const byId = new Map(gone.map((one) => [one.id, one]));
  const on = new Map<unknown, G[]>();
  const owned = new Set<G>();
  for (const one of gone) {
    const parent = byId.get(String(below(one)));
    if (!parent || !together(one, parent)) continue;
    owned.add(one);
    on.set(parent.id, [...(on.get(parent.id) ?? []), one]);
  }
  const all = (row: G): G[] => (on.get(row.id) ?? []).flatMap((one) => [one, ...all(one)]);
  return gone.filter((one) => !owned.has(one)).map((row) => ({ row, with: all(row) }));
}

/** What has to come back for a row to be seen: what it stands on as far as that was deleted too, itself, and what went with it. */
export function comesBack<G extends Gone>(deed: { row: G; with: readonly G[] }, gone: readonly G[]): G[] {
  const byId = new Map(gone.map((one) => [one.id, one]));
  const ground: G[] = [];
  for (let one = byId.get(String(below(deed.row))); one && !ground.includes(one); one = byId.get(String(below(one)))) ground.unshift(one);
  return [...ground, deed.row, ...deed.with];
}
