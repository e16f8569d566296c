/** Plane geometry of the drawing itself: boxes, simplified free lines, crowds of marks, and where their numbers go. */
import type { WallPoint } from "../types";

export type Box = { x0: number; y0: number; x1: number; y1: number };
export type Spot = { x: number; y: number };

export function boxOf(points: readonly (readonly [number, number])[]): Box {
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
  for (const [x, y] of points) {
    box.x0 = Math.min(box.x0, x);
    box.y0 = Math.min(box.y0, y);
    box.x1 = Math.max(box.x1, x);
    box.y1 = Math.max(box.y1, y);
  }
  return box;
}

export const meets = (a: Box, b: Box): boolean => a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1;

/** Marks are kept to the millimetre. */
export const toMm = (point: WallPoint): WallPoint => [Math.round(point[0] * 1000) / 1000 + 0, Math.round(point[1] * 1000) / 1000 + 0];

function distance(p: WallPoint, a: WallPoint, b: WallPoint): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const length2 = dx * dx + dy * dy;
  const along = length2 === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / length2));
  return Math.hypot(p[0] - a[0] - along * dx, p[1] - a[1] - along * dy);
}

/** The fewest of the given points whose path strays nowhere more than `tolerance` from them (Douglas and Peucker 1973). */
export function simplify(points: readonly WallPoint[], tolerance: number): WallPoint[] {
  const keep = new Set([0, points.length - 1]);
  const spans: [number, number][] = [[0, points.length - 1]];
  for (let span = spans.pop(); span; span = spans.pop()) {
    const [first, last] = span;
    let [worst, at] = [tolerance, -1];
    for (let i = first + 1; i < last; i += 1) {
      const off = distance(points[i] as WallPoint, points[first] as WallPoint, points[last] as WallPoint);
      if (off > worst) [worst, at] = [off, i];
    }
    if (at < 0) continue;
    keep.add(at);
    spans.push([first, at], [at, last]);
  }
  return points.filter((_, i) => keep.has(i));
}

const FREE_TOLERANCE = 0.02;

/** A free line as it is kept: straying at most 2 % of its size, to the millimetre, no point twice, an outline not closed. */
export function tidyFree(points: readonly WallPoint[], closes: boolean): WallPoint[] {
  const box = boxOf(points);
  const tolerance = Math.max(0.001, FREE_TOLERANCE * Math.max(box.x1 - box.x0, box.y1 - box.y0));
  const kept = simplify(points, tolerance).map(toMm).filter((p, i, all) => i === 0 || p[0] !== all[i - 1]?.[0] || p[1] !== all[i - 1]?.[1]);
  const [first, last] = [kept[0], kept.at(-1)];
  const shut = closes && kept.length > 3 && first && last && Math.hypot(first[0] - last[0], first[1] - last[1]) < 4 * tolerance;
  return shut ? kept.slice(0, -1) : kept;
}

/** The middle of a mark: of a line half way along its points, else the centre of its box. */
export function anchorOf(points: readonly WallPoint[], shape: "pin" | "line" | "outline"): Spot {
  const half = points[Math.floor((points.length - 1) / 2)];
  const next = points[Math.floor(points.length / 2)];
  if (shape === "line" && half && next) return { x: (half[0] + next[0]) / 2, y: (half[1] + next[1]) / 2 };
  const box = boxOf(points);
  return { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 };
}

export type Crowd<T> = { x: number; y: number; members: T[] };

/** Spots gathered by the cell of a square net they lie in; each crowd stands at the mean of its members. */
export function gather<T extends Spot>(spots: readonly T[], cell: number): Crowd<T>[] {
  const cells = new Map<string, T[]>();
  for (const spot of spots) {
    const key = `${Math.floor(spot.x / cell)} ${Math.floor(spot.y / cell)}`;
    const members = cells.get(key);
    if (members) members.push(spot);
    else cells.set(key, [spot]);
  }
  return [...cells.values()].map((members) => ({
    x: members.reduce((sum, one) => sum + one.x, 0) / members.length, y: members.reduce((sum, one) => sum + one.y, 0) / members.length, members,
  }));
}

export type Way = "left" | "right" | "up" | "down";
const WAYS: Record<Way, Spot> = { left: { x: -1, y: 0 }, right: { x: 1, y: 0 }, up: { x: 0, y: 1 }, down: { x: 0, y: -1 } };

/** The index of the nearest spot that way (within 60 degrees of it, sideways counting double); -1 where there is none. */
export function nearestToward(spots: readonly Spot[], from: number, way: Way): number {
  const start = spots[from];
  if (!start) return spots.length ? 0 : -1;
  const { x: ux, y: uy } = WAYS[way];
  let [best, found] = [Infinity, -1];
  spots.forEach((spot, i) => {
    const [dx, dy] = [spot.x - start.x, spot.y - start.y];
    const ahead = dx * ux + dy * uy;
    const aside = Math.abs(dx * uy - dy * ux);
    if (i === from || ahead <= 0 || aside > ahead * Math.sqrt(3)) return;
    if (ahead + 2 * aside < best) [best, found] = [ahead + 2 * aside, i];
  });
  return found;
}

export type Tag = { box: Box; width: number; height: number };

/** Where each tag's middle goes: above its mark, else beside or below, wherever it covers no tag placed before; null where all is taken. */
export function placeTags(tags: readonly Tag[], gap: number): (Spot | null)[] {
  const taken = new Map<string, Box[]>();
  const cell = Math.max(...tags.map((tag) => Math.max(tag.width, tag.height)), 1e-9);
  const cellsOf = (box: Box) => {
    const keys: string[] = [];
    for (let i = Math.floor(box.x0 / cell); i <= Math.floor(box.x1 / cell); i += 1)
      for (let j = Math.floor(box.y0 / cell); j <= Math.floor(box.y1 / cell); j += 1) keys.push(`${i} ${j}`);
    return keys;
  };
  const free = (box: Box) => !cellsOf(box).some((key) => taken.get(key)?.some((other) => meets(box, other)));
  return tags.map((tag) => {
    const at = placesAround(tag, gap).find((spot) => free(around(spot, tag)));
    if (!at) return null;
    for (const key of cellsOf(around(at, tag))) taken.set(key, [...(taken.get(key) ?? []), around(at, tag)]);
    return at;
  });
}

function placesAround({ box, width, height }: Tag, gap: number): Spot[] {
  const [cx, cy] = [(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2];
  const [up, down] = [box.y1 + gap + height / 2, box.y0 - gap - height / 2];
  const [left, right] = [box.x0 - gap - width / 2, box.x1 + gap + width / 2];
  return [[cx, up], [right, up], [left, up], [right, cy], [left, cy], [cx, down], [right, down], [left, down]].map(([x = 0, y = 0]) => ({ x, y }));
}

const around = ({ x, y }: Spot, { width, height }: Tag): Box => ({ x0: x - width / 2, x1: x + width / 2, y0: y - height / 2, y1: y + height / 2 });

/** The smallest of the steps (growing) that is at least `least`, else the largest. */
export function stepFrom(steps: readonly number[], least: number): number {
  return steps.find((step) => step >= least) ?? steps.at(-1) ?? least;
}
