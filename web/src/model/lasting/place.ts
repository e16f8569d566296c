/** Which finish lies where on a side, and since when: the newest region that holds the spot, else what covers the whole side. */
import { lies } from "../defect";
import type { Face } from "../storm/driving_rain";
import { faceAt } from "../storm/told";
import { angleOf, pointOf, shapeOf, surfaceHeight } from "../surface";
import type { Elevation, Finish, Mark, Surface, View, WallPoint } from "../types";

export type Laid = Pick<Finish, "id" | "made_on" | "ended_on" | "region" | "ticket_id">;

/** Whether it was on the wall that day; the day it came off still counts. */
export const stoodOn = (one: Laid, on: string): boolean => (one.made_on === null || one.made_on <= on) && (one.ended_on === null || on <= one.ended_on);

/** The mean of a mark's points, the spot that stands for it. */
export function middle(mark: Mark): WallPoint {
  const n = mark.points_m.length;
  return [mark.points_m.reduce((sum, p) => sum + p[0], 0) / n, mark.points_m.reduce((sum, p) => sum + p[1], 0) / n];
}

/** The face of a finish, by the spot that stands for it: the middle of its region, else of the whole side half-way up its middle line. */
export function faceOf({ surface, bearing_deg }: Pick<Elevation, "surface" | "bearing_deg">, region: Mark | null): Face {
  const { round } = shapeOf(surface);
  if (!round || !region) return faceAt(surface, bearing_deg, 0, surfaceHeight(surface) / 2);
  const [angle, z_m] = angleOf(round, region.view, middle(region));
  return faceAt(surface, bearing_deg, (angle * 180) / Math.PI, z_m);
}

/** A spot of one view as it lies in another; null where that view hides it. */
function inView(surface: Surface, spot: WallPoint, from: View, to: View): WallPoint | null {
  const { round } = shapeOf(surface);
  if (from === to || !round) return spot;
  const there = pointOf(round, to, ...angleOf(round, from, spot));
  return there ? [there[0], there[1]] : null;
}

/** Whether a drawn region holds a spot that was marked in this or another view. */
export function holds(surface: Surface, region: Mark, spot: WallPoint, view: View): boolean {
  const there = inView(surface, spot, view, region.view);
  return there !== null && lies(there, region.points_m);
}

const newestLast = (a: Laid, b: Laid): number => {
  const [x, y] = [a.made_on ?? "", b.made_on ?? ""];
  return x !== y ? (x < y ? -1 : 1) : a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
};

/** All that ever lay under a spot, the newest first, whether it still stands or not. */
export function laidAt<F extends Laid>(surface: Surface, finishes: readonly F[], mark: Mark): F[] {
  const spot = middle(mark);
  return [...finishes].sort(newestLast).reverse().filter((one) => one.region === null || holds(surface, one.region, spot, mark.view));
}

/** The finish on which a mark lay that day: newest region first, then the newest over the whole side. */
export function finishAt<F extends Laid>(surface: Surface, finishes: readonly F[], mark: Mark, on: string): F | null {
  const stood = laidAt(surface, finishes, mark).filter((one) => stoodOn(one, on));
  return stood.find((one) => one.region !== null) ?? stood[0] ?? null;
}
