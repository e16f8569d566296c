/** What the drawing of a surface needs: views, edges, shading, openings, and marks carried from one view into another. */
import { angleOf, pointOf, seenWidth, shapeOf, silhouettePath, surfaceHeight, unrolledWidth } from "../surface";
import type { Mark, Opening, Surface, View, WallPoint } from "../types";
import { type Box, boxOf } from "./plan";

/** The views in which this wall can be drawn. */
export function viewsOf(surface: Surface): View[] {
  const { round } = shapeOf(surface);
  if (!round) return ["seen"];
  return round.showsAbove ? ["seen", "unrolled", "above"] : ["seen", "unrolled"];
}

export function extentOf(surface: Surface, view: View): Box {
  return boxOf(silhouettePath(surface, view, 96));
}

/** x of the drawn middle line. */
export function middleX(surface: Surface, view: View): number {
  if (view === "unrolled") return unrolledWidth(surface) / 2;
  return surface.kind === "flat" ? seenWidth(surface) / 2 : 0;
}

const into = (value: number, low: number, high: number) => Math.min(Math.max(value, low), high);

/** The point itself, or the place on the wall's drawing nearest to it (across, once its height is on the wall). */
export function ontoWall(surface: Surface, view: View, [x, y]: WallPoint): WallPoint {
  const { round } = shapeOf(surface);
  if (round && view === "above") {
    const rho = Math.hypot(x, y);
    const held = into(rho, round.top, round.shown);
    return rho === 0 ? [x, y - held] : [(x * held) / rho, (y * held) / rho];
  }
  const z = into(y, 0, surfaceHeight(surface));
  if (!round) return [into(x, 0, unrolledWidth(surface)), z];
  if (view === "unrolled") return [into(x, 0, unrolledWidth(surface)), z];
  return [into(x, -round.radius(z), round.radius(z)), z];
}

const PIECES = 8;

function divided(points: readonly WallPoint[], closed: boolean): WallPoint[] {
  const ends = closed ? points : points.slice(0, -1);
  const pieces = ends.flatMap((a, i) => {
    const b = points[(i + 1) % points.length] ?? a;
    return Array.from({ length: PIECES }, (_, k): WallPoint => [a[0] + ((b[0] - a[0]) * k) / PIECES, a[1] + ((b[1] - a[1]) * k) / PIECES]);
  });
  const last = points.at(-1);
  return closed || !last ? pieces : [...pieces, last];
}

/**
 * Points drawn in one view as they lie in another; null where too little of them shows there.
 * `least` is how many points must show: 1 for a pin, 2 for a line, 3 for an outline.
 */
export function carried(surface: Surface, from: View, to: View, points: readonly WallPoint[], least: 1 | 2 | 3): WallPoint[] | null {
  const { round } = shapeOf(surface);
  if (from === to || !round) return [...points];
  if (from === "above" && !round.showsAbove) return null;
  const found = divided(points, least === 3).map((point) => pointOf(round, to, ...angleOf(round, from, point)));
  const shown = found.filter((point) => point !== null).map(([x, y]): WallPoint => [x, y]);
  if (to === "unrolled" && overSeam(shown, Math.PI * round.foot, least === 3)) return null;
  return shown.length >= least ? shown : null;
}

/** How many points of a mark must show for it to be drawn. */
export const LEAST_SHOWN = { pin: 1, line: 2, outline: 3 } as const;

/** Whether a view of this wall draws a mark. */
export function draws(surface: Surface, view: View, mark: Mark): boolean {
  return carried(surface, mark.view, view, mark.points_m, LEAST_SHOWN[mark.shape]) !== null;
}

/** The first of the wall's views that draws a mark; null where none does. */
export function firstViewOf(surface: Surface, mark: Mark): View | null {
  return viewsOf(surface).find((view) => draws(surface, view, mark)) ?? null;
}

/** Whether neighbours lie more than half the wall apart: the seam at the back, or the crown, lies between them. */
function overSeam(points: readonly WallPoint[], half_m: number, closed: boolean): boolean {
  return points.some((point, i) => {
    const before = points[i - 1] ?? (closed ? points.at(-1) : undefined);
    return before !== undefined && Math.abs(point[0] - before[0]) > half_m;
  });
}

const ARCH_CHORDS = 24;

/** An opening as a ring in the view from the front; an arch as 24 chords. */
export function openingRing({ x_m: x, y_m: y, width_m: width, height_m: height, head }: Opening): WallPoint[] {
  if (head === "flat") return [[x, y], [x + width, y], [x + width, y + height], [x, y + height]];
  const r = width / 2;
  const arch = Array.from({ length: ARCH_CHORDS + 1 }, (_, k): WallPoint => {
    const turn = (Math.PI * k) / ARCH_CHORDS;
    return [x + r + r * Math.cos(turn), y + height - r + r * Math.sin(turn)];
  });
  return [[x, y], [x + width, y], ...arch];
}

const SHADE_FROM_DEG = [35, 52, 66, 78];
const SLICES = 32;

/** Regions to be laid over one another so that a round wall reads as round: each from a meridian to the edge, left and right. */
export function shadesOf(surface: Surface, view: View): WallPoint[][] {
  const { round } = shapeOf(surface);
  if (!round || view !== "seen") return [];
  const heights = round.rings ? round.rings.map(([, z]) => z) : Array.from({ length: SLICES + 1 }, (_, k) => round.height * Math.sin((Math.PI / 2) * (k / SLICES)));
  const side = (share: number): WallPoint[] => heights.map((z) => [share * round.radius(z), z]);
  return SHADE_FROM_DEG.flatMap((deg) => {
    const inner = Math.sin((deg * Math.PI) / 180);
    return [1, -1].map((sign) => [...side(sign * inner), ...side(sign).reverse()]);
  });
}

/** Radii, outermost first, at which a wall seen from above stands at whole steps of height. */
export function ringsAbove(surface: Surface, step_m: number): { radius_m: number; height_m: number }[] {
  const { round } = shapeOf(surface);
  if (!round?.showsAbove) return [];
  const rings: { radius_m: number; height_m: number }[] = [];
  for (let z = step_m; z < round.height; z += step_m) {
    if (z >= round.heightAt(round.shown)) rings.push({ radius_m: round.radius(z), height_m: z });
  }
  return rings;
}

/** Four corners of the drawn wall to lay a photo by: of the whole where it is flat, else of the largest upright rectangle about the middle. */
export function cornersOf(surface: Surface): WallPoint[] {
  const { round } = shapeOf(surface);
  const height = surfaceHeight(surface);
  if (!round) return [[0, height], [unrolledWidth(surface), height], [unrolledWidth(surface), 0], [0, 0]];
  const z = round.top > 0 ? height : height / 2;
  const half = Math.min(round.radius(z), round.foot) * 0.7;
  return [[-half, z], [half, z], [half, 0], [-half, 0]].map(([x = 0, y = 0]): WallPoint => [Math.round(x * 1000) / 1000, Math.round(y * 1000) / 1000]);
}
