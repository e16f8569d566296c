/** Sorts by which finishes are set side by side: as a whole, by outer mix, thickness, wall or the way they face. */
import type { Coat } from "../types";

export const SORTS = ["coats", "mix", "thickness", "wall", "face"] as const;
export type Sort = (typeof SORTS)[number];
/** What decides the sort of a finish; `faces_deg` where it lies, `wall` the material under it. */
export type Sorted = { coats: readonly Coat[]; wall: string | null; faces_deg: number };

const SECTOR_DEG = 45;

/** The class of a thickness among rising bounds: 0 below the first. */
export const classOf = (cover_mm: number, bounds_mm: readonly number[]): number => bounds_mm.filter((bound) => cover_mm >= bound).length;

const cover = (coats: readonly Coat[]): number => coats.reduce((sum, coat) => sum + coat.thickness_mm, 0);

/** One word for the sort of a finish, the same for all that belong together. */
export function keyOf(one: Sorted, by: Sort, bounds_mm: readonly number[]): string {
  if (by === "coats") return one.coats.map((coat) => coat.mix).join("+");
  if (by === "mix") return one.coats.at(-1)?.mix ?? "";
  if (by === "thickness") return String(classOf(cover(one.coats), bounds_mm));
  if (by === "wall") return one.wall ?? "";
  return String((Math.round((((one.faces_deg % 360) + 360) % 360) / SECTOR_DEG) % 8) * SECTOR_DEG);
}

export function sorted<T>(all: readonly T[], of: (one: T) => Sorted, by: Sort, bounds_mm: readonly number[]): { key: string; members: T[] }[] {
  const groups = new Map<string, T[]>();
  for (const one of all) {
    const key = keyOf(of(one), by, bounds_mm);
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  const rank = (key: string) => (by === "thickness" || by === "face" ? key.padStart(4, "0") : key);
  return [...groups].map(([key, members]) => ({ key, members })).sort((a, b) => (rank(a.key) < rank(b.key) ? -1 : 1));
}
