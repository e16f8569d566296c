/** What is known of one defect, put together from its mark, its readings and the wall under it: the facts that urgency, method and estimate ask for. */
import { type FinishKind, type Mix, finishKindOf } from "./catalogue";
import type { Job } from "./estimate";
import { reckonArea, reckonLength } from "./outline";
import { Refusal } from "./refusal";
import type { Coat, Defect, Elevation, Finish, Mark, Reading, Structure, WallPoint } from "./types";
import type { Facts } from "./urgency";

export type Size = {
  /** True, on the curve; null where nothing tells it. */
  area_m2: number | null;
  /** As the flat drawing or a flat photo shows it; null where the size was not drawn. */
  as_drawn_m2: number | null;
  perimeter_m: number | null;
  length_m: number | null;
  warnings: string[];
};

/** `tried`: mixes of which enough sample panels held on this structure; where that is not known, none. */
export type Wall = { elevation: Elevation; structure: Structure | undefined; finishes: readonly Finish[]; tried?: readonly string[] | null };

const UNKNOWN: Size = { area_m2: null, as_drawn_m2: null, perimeter_m: null, length_m: null, warnings: [] };

/** Where a defect lies now: the mark of its latest reading that drew one, else its own. */
export function markOf(defect: Pick<Defect, "mark">, readings: readonly Reading[]): Mark {
  return [...readings].reverse().find((one) => one.mark !== null)?.mark ?? defect.mark;
}

const sameMark = (a: Mark, b: Mark): boolean =>
  a.view === b.view && a.shape === b.shape && a.points_m.length === b.points_m.length && a.points_m.every(([x, y], i) => x === b.points_m[i]?.[0] && y === b.points_m[i]?.[1]);

/** Whether the last of these readings moved or redrew the mark that stood until then; the first one draws nothing anew. */
export function drewAnew(defect: Pick<Defect, "mark">, readings: readonly Reading[]): boolean {
  const now = readings.at(-1)?.mark ?? null;
  return readings.length > 1 && now !== null && !sameMark(now, markOf(defect, readings.slice(0, -1)));
}

/** The latest answer given to a question; a reading that was silent on it leaves the earlier answer standing. */
export function latest<K extends keyof Reading>(readings: readonly Reading[], field: K): Reading[K] | null {
  return [...readings].reverse().find((one) => one[field] !== null)?.[field] ?? null;
}

/** The size that a mark itself shows on its wall; a mark that does not fit the wall (any more) shows none. */
export function sizeOfMark(mark: Mark, elevation: Elevation): Size {
  try {
    if (mark.shape === "outline") {
      const found = reckonArea(elevation.surface, mark.view, mark.points_m);
      return { ...UNKNOWN, ...found };
    }
    if (mark.shape === "line") {
      const found = reckonLength(elevation.surface, mark.view, mark.points_m);
      return { ...UNKNOWN, length_m: found.length_m, warnings: found.warnings };
    }
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { ...UNKNOWN, warnings: [error.code] };
  }
  return UNKNOWN;
}

/** Size of a defect: drawn where it was drawn, else as the latest reading gave it. */
export function sizeOf(defect: Defect, readings: readonly Reading[], elevation: Elevation): Size {
  const drawn = sizeOfMark(markOf(defect, readings), elevation);
  return {
    ...drawn,
    area_m2: drawn.area_m2 ?? latest(readings, "area_m2"),
    length_m: drawn.length_m ?? latest(readings, "length_m"),
  };
}

function middle(points: readonly WallPoint[]): [number, number] {
  const sum = points.reduce(([x, y], p) => [x + p[0], y + p[1]], [0, 0] as [number, number]);
  return [sum[0] / points.length, sum[1] / points.length];
}

/** Whether a point lies inside a drawn outline (crossings counted to the right). */
export function lies(point: readonly [number, number], outline: readonly WallPoint[]): boolean {
  let inside = false;
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length] ?? a;
    if (a[1] > point[1] !== b[1] > point[1] && point[0] < ((b[0] - a[0]) * (point[1] - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside;
  });
  return inside;
}

/** The finish under a mark: the latest one whose region holds the mark's middle, else the latest that covers the whole elevation. */
export function finishUnder(mark: Mark, finishes: readonly Finish[]): Finish | null {
  const spot = middle(mark.points_m);
  const latestFirst = [...finishes].reverse();
  const own = latestFirst.find((one) => one.region !== null && one.region.view === mark.view && lies(spot, one.region.points_m));
  return own ?? latestFirst.find((one) => one.region === null) ?? null;
}

export function coverOf(coats: readonly Coat[]): number {
  return coats.reduce((sum, coat) => sum + coat.thickness_mm, 0);
}

/** The facts for urgency and method; `size` where it is known already. */
export function factsOf(
  defect: Defect, readings: readonly Reading[], wall: Wall, mixes: Record<string, Mix>, size: Size = sizeOf(defect, readings, wall.elevation),
): Facts & { finish_kind: FinishKind } {
  const finish = finishUnder(markOf(defect, readings), wall.finishes);
  return {
    kind: defect.kind,
    signs: defect.signs ?? [],
    depth_max_mm: latest(readings, "depth_max_mm"),
    cover_mm: finish ? coverOf(finish.coats) : null,
    area_m2: size.area_m2,
    crack_width_mm: latest(readings, "crack_width_mm"),
    wall_material: wall.structure?.wall_material ?? null,
    finish_kind: finish ? finishKindOf(finish.coats, mixes) : "none",
  };
}

/** The repair job of one defect, as the estimate takes it. */
export function jobOf(defect: Defect, readings: readonly Reading[], wall: Wall, mixes: Record<string, Mix>): Job {
  const size = sizeOf(defect, readings, wall.elevation);
  const facts = factsOf(defect, readings, wall, mixes, size);
  return {
    area_m2: size.area_m2,
    perimeter_m: size.perimeter_m,
    length_m: size.length_m,
    count: latest(readings, "count"),
    depth_mean_mm: latest(readings, "depth_mean_mm"),
    depth_max_mm: facts.depth_max_mm,
    crack_width_mm: facts.crack_width_mm,
    cover_mm: facts.cover_mm,
    wall_material: facts.wall_material,
    finish_kind: facts.finish_kind,
    panel_mixes: [...(wall.tried ?? [])],
  };
}
