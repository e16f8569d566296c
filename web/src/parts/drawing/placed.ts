/** Marks laid out on one view: their points there, which of them show, who stands in a crowd, and where the numbers go. */
import { type Crowd, type Box, type Spot, type Tag, anchorOf, boxOf, gather, meets, placeTags } from "../../model/drawing/plan";
import { carried } from "../../model/drawing/projection";
import { lies } from "../../model/defect";
import type { Id, Surface, View, WallPoint } from "../../model/types";
import type { DrawnMark } from "./WallDrawing";

export type Placed = { mark: DrawnMark; points: WallPoint[]; box: Box; at: Spot };
export type Single = Placed & { x: number; y: number; tag: Spot | null };
export type Group = Crowd<Placed & Spot> & { id: string };
export type Scene = { singles: Single[]; groups: Group[] };

const LEAST = { pin: 1, line: 2, outline: 3 } as const;
/** Above this many marks in the frame they gather into counted circles: more would neither be told apart nor stay quick. */
export const CROWDED_ABOVE = 500;
const CROWD_PX = 64;
const TAG_HEIGHT_PX = 26;
const PIN_REACH_PX = 10;
export const tagWidth_px = (label: string): number => 16 + 9 * label.length;

/** Every mark as it lies in this view; those that do not show there are left out. */
export function placeMarks(marks: readonly DrawnMark[], surface: Surface, view: View): Placed[] {
  return marks.flatMap((mark) => {
    const { shape } = mark.mark;
    const points = carried(surface, mark.mark.view, view, mark.mark.points_m, LEAST[shape]);
    return points && points.length > 0 ? [{ mark, points, box: boxOf(points), at: anchorOf(points, shape) }] : [];
  });
}

function tagOf(placed: Placed, m_per_px: number): Tag {
  const reach = placed.mark.mark.shape === "pin" ? PIN_REACH_PX * m_per_px : 0;
  const { x0, y0, x1, y1 } = placed.box;
  const box = { x0: x0 - reach, y0: y0 - reach, x1: x1 + reach, y1: y1 + reach };
  return { box, width: tagWidth_px(placed.mark.label) * m_per_px, height: TAG_HEIGHT_PX * m_per_px };
}

/** What is drawn at this scale: single marks, the chosen one's number first, or crowds where there are too many. */
export function sceneOf(all: readonly Placed[], shown: Box, m_per_px: number, chosen: Id | null): Scene {
  const seen = all.filter((one) => meets(one.box, shown)).map((one) => ({ ...one, ...one.at }));
  const crowds = seen.length > CROWDED_ABOVE ? gather(seen, CROWD_PX * m_per_px) : [];
  const groups = crowds.filter((crowd) => crowd.members.length > 1);
  const lone = crowds.length ? crowds.filter((crowd) => crowd.members.length === 1).flatMap((crowd) => crowd.members) : seen;
  const first = lone.findIndex((one) => one.mark.id === chosen);
  const ordered = first > 0 ? [lone[first] as (typeof lone)[number], ...lone.slice(0, first), ...lone.slice(first + 1)] : lone;
  const tags = placeTags(ordered.map((one) => tagOf(one, m_per_px)), 4 * m_per_px);
  const singles = ordered.map((one, i) => ({ ...one, tag: tags[i] ?? null }));
  return { singles, groups: groups.map((crowd) => ({ ...crowd, id: `crowd ${crowd.members[0]?.mark.id}` })) };
}

/** What a finger at this point means: the nearest mark, number or crowd within reach, else the smallest outline round the point. */
export function touched(scene: Scene, point: WallPoint, m_per_px: number): Single | Group | null {
  const reach = 22 * m_per_px;
  const off = (spot: Spot) => Math.hypot(spot.x - point[0], spot.y - point[1]);
  const near = [...scene.groups, ...scene.singles].map((one) => {
    const tag = "tag" in one && one.tag ? off(one.tag) : Infinity;
    return { one, off: Math.min(off(one), tag) };
  });
  const best = near.reduce((a, b) => (b.off < a.off ? b : a), { one: null as Single | Group | null, off: Infinity });
  if (best.off <= reach) return best.one;
  const area = (one: Single) => (one.box.x1 - one.box.x0) * (one.box.y1 - one.box.y0);
  const round = scene.singles.filter((one) => one.mark.mark.shape === "outline" && lies(point, one.points));
  return round.sort((a, b) => area(a) - area(b))[0] ?? alongLine(scene, point, reach);
}

function alongLine(scene: Scene, point: WallPoint, reach: number): Single | null {
  const lines = scene.singles.filter((one) => one.mark.mark.shape === "line");
  return lines.find((one) => one.points.some((p, i) => i > 0 && offSegment(point, one.points[i - 1] as WallPoint, p) <= reach)) ?? null;
}

function offSegment(p: WallPoint, a: WallPoint, b: WallPoint): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const along = Math.max(0, Math.min(1, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(p[0] - a[0] - along * dx, p[1] - a[1] - along * dy);
}
