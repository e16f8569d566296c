/**
 * A photo placed on a plane by four points: photo pixels to metres on that plane, and what speaks against it. The plane is the
 * wall's own face where it is flat, else the plane through the four points or the card. Own derivation from plane projective geometry.
 */
import { type Homography, applyHomography, homography } from "../rectify";
import { Refusal } from "../refusal";
import type { XY } from "../surface";
import type { PhotoPoint } from "../types";

/** Pixels are those of a frame whose longer side is `FRAME_PX`, whatever size the picture has, so that a smaller copy changes nothing. */
export type PhotoSize = { width_px: number; height_px: number };
export const FRAME_PX = 2000;
/** The longer side of a picture that can be measured on, in its own pixels. */
export const SMALLEST_PHOTO_PX = 320;
/** Shortest side of the four points in frame pixels: below the first nothing is measured, below the second it is said. */
const LEAST_SIDE_PX = 12;
const SMALL_SIDE_PX = 60;
const LEAST_SINE = 0.005;
/** Share of the scale at the four points at which a place counts as near the horizon. */
const NEAR_HORIZON = 0.35;
/** Diagonals of the four points up to which an outline counts as near them. */
const NEAR_DIAGONALS = 3;

/** The frame of a picture; throws Refusal `photo_too_small`. */
export function frameOf(width_px: number, height_px: number): PhotoSize {
  const longer = Math.max(width_px, height_px);
  if (!(longer >= SMALLEST_PHOTO_PX)) throw new Refusal("photo_too_small", { photo: "too few pixels" });
  return { width_px: (width_px * FRAME_PX) / longer, height_px: (height_px * FRAME_PX) / longer };
}

const apart = (p: XY, q: XY) => Math.hypot(q[0] - p[0], q[1] - p[1]);
const turn = (a: XY, b: XY, c: XY) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
const cross = (a: XY, b: XY, c: XY, d: XY) => turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;

const shortestSide = (four: readonly XY[]) => Math.min(...four.map((p, i) => apart(p, four[(i + 1) % 4]!)));

function checkFour(four: readonly PhotoPoint[]): void {
  const [p, q, r, s] = four as [XY, XY, XY, XY];
  if (cross(p, q, r, s) || cross(q, r, s, p)) throw new Refusal("points_cross", { points: "photo" });
  for (let left = 0; left < 4; left++) {
    const [a, b, c] = four.filter((_, i) => i !== left) as [XY, XY, XY];
    const longest = Math.max(apart(a, b), apart(b, c), apart(c, a));
    if (Math.abs(turn(a, b, c)) <= LEAST_SINE * longest ** 2) throw new Refusal("points_on_line", { points: "photo" });
  }
  if (shortestSide(four) < LEAST_SIDE_PX) throw new Refusal("reference_too_small", { points: "photo" });
}

/**
 * Photo pixels to plane metres (y up) by four pairs in the same order. Throws Refusal `points_cross`, `points_on_line`,
 * `reference_too_small`, or `points_refused` for what else makes no picture of a plane.
 */
export function placeOnPlane(photo: readonly PhotoPoint[], plane_m: readonly XY[]): Homography {
  if (photo.length !== 4) throw new Refusal("points_refused", { points: "photo" });
  checkFour(photo);
  return homography(photo, plane_m as XY[]);
}

/** A photo point in plane metres; throws Refusal `beyond_horizon`. */
export function onPlane(matrix: Homography, point: PhotoPoint): [number, number] {
  try {
    return applyHomography(matrix, point);
  } catch (error) {
    if (error instanceof Refusal) throw new Refusal("beyond_horizon", error.fields);
    throw error;
  }
}

/** Four plane points turned about the origin so that "up" on the photo, at the middle of the four, is up. */
export function levelByPhoto(photo: readonly PhotoPoint[], plane_m: readonly XY[]): XY[] {
  const matrix = placeOnPlane(photo, plane_m);
  const x = photo.reduce((sum, p) => sum + p[0], 0) / 4, y = photo.reduce((sum, p) => sum + p[1], 0) / 4;
  const [here, above] = [onPlane(matrix, [x, y]), onPlane(matrix, [x, y - 1])];
  const lean = Math.atan2(above[0] - here[0], above[1] - here[1]);
  const [c, s] = [Math.cos(lean), Math.sin(lean)];
  return plane_m.map(([u, v]): XY => [u * c - v * s, u * s + v * c]);
}

/** What makes an outline less sure than its range says: `near_horizon`, `far_from_points`, `points_small`. */
export function doubtsOf(photo: readonly PhotoPoint[], plane_m: readonly XY[], outline: readonly PhotoPoint[]): string[] {
  const matrix = placeOnPlane(photo, plane_m);
  const near = outline.every(([x, y]) => matrix[6]! * x + matrix[7]! * y + matrix[8]! >= NEAR_HORIZON);
  const middle: XY = [plane_m.reduce((sum, p) => sum + p[0], 0) / 4, plane_m.reduce((sum, p) => sum + p[1], 0) / 4];
  const reach = NEAR_DIAGONALS * Math.max(apart(plane_m[0]!, plane_m[2]!), apart(plane_m[1]!, plane_m[3]!));
  const far = outline.some((point) => apart(onPlane(matrix, point), middle) > reach);
  return [...(near ? [] : ["near_horizon"]), ...(far ? ["far_from_points"] : []), ...(shortestSide(photo) < SMALL_SIDE_PX ? ["points_small"] : [])];
}
