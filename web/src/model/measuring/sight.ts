/**
 * From the plane of the four points onto a round wall: the line of sight through a point of the plane is followed until it meets
 * the surface. Where the camera stood follows from the homography once a focal length is assumed (pinhole, own derivation).
 */
import type { Round } from "../dome";
import { type Homography, invertHomography } from "../rectify";
import { Refusal } from "../refusal";
import type { PhotoSize } from "./placing";
import type { XY } from "../surface";

export type XYZ = readonly [number, number, number];
/** A plane in space: metres to the viewer's right, away from the viewer, up from the foot; `right`, `up`, `out` are unit vectors. */
export type Plane = { origin: XYZ; right: XYZ; up: XYZ; out: XYZ };

/**
 * Focal length over the longer side of the photo. Assumed: main cameras of phones see like a 26 mm lens on a 36 mm frame; the low
 * and the high stand for wider ones and for cropped or zoomed photos.
 */
export const FOCAL_SHARES = { likely: 26 / 36, low: 0.6, high: 2 } as const;

const STEP = 0.02;
const NEAREST = 0.5;
const FARTHEST = 3;
const HALVINGS = 30;

const dot = (a: XYZ, b: XYZ) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a: XYZ, b: XYZ): XYZ => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const crossed = (a: XYZ, b: XYZ): XYZ => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const scaled = (a: XYZ, k: number): XYZ => [a[0] * k, a[1] * k, a[2] * k];
const unit = (a: XYZ): XYZ => scaled(a, 1 / Math.hypot(...a));

export const pointInSpace = (round: Round, angle: number, z: number): XYZ => [round.radius(z) * Math.sin(angle), -round.radius(z) * Math.cos(angle), z];

/** The plane that touches the wall at an angle (radians from the middle line) and height. */
export function touchingPlane(round: Round, angle: number, z: number): Plane {
  const slope = round.slope(z);
  if (!Number.isFinite(slope)) throw new Refusal("outline_leaves_wall", { points_m: "at the crown" });
  const right: XYZ = [Math.cos(angle), Math.sin(angle), 0];
  const up = unit([slope * Math.sin(angle), -slope * Math.cos(angle), 1]);
  return { origin: pointInSpace(round, angle, z), right, up, out: crossed(right, up) };
}

/** The plane through four points of the wall, from the upper left round, and the points on it. */
export function planeThrough(four: readonly XYZ[]): { plane: Plane; points_m: XY[] } {
  const [p, q, r, s] = four as [XYZ, XYZ, XYZ, XYZ];
  const origin = scaled([p[0] + q[0] + r[0] + s[0], p[1] + q[1] + r[1] + s[1], p[2] + q[2] + r[2] + s[2]], 0.25);
  const normal = crossed(minus(q, s), minus(p, r));
  if (Math.hypot(...normal) === 0) throw new Refusal("points_on_line", { points: "wall" });
  // Outward is away from the axis; a wall is only seen from outside.
  const out = unit(normal[0] * origin[0] + normal[1] * origin[1] >= 0 ? normal : scaled(normal, -1));
  const right = unit(crossed([0, 0, 1], out));
  const up = crossed(out, right);
  return { plane: { origin, right, up, out }, points_m: four.map((one): XY => [dot(minus(one, origin), right), dot(minus(one, origin), up)]) };
}

/** Where the camera stood, in the plane's right, up and out; throws Refusal `points_refused` where that is behind the wall. */
export function cameraOf(matrix: Homography, size: PhotoSize, focalShare: number): XYZ {
  const focal = focalShare * Math.max(size.width_px, size.height_px);
  const back = invertHomography(matrix);
  const column = (k: number): XYZ => {
    const depth = back[6 + k]!;
    return [(back[k]! - (size.width_px / 2) * depth) / focal, (back[3 + k]! - (size.height_px / 2) * depth) / focal, depth];
  };
  const [first, second, third] = [column(0), column(1), column(2)];
  const scale = (2 / (Math.hypot(...first) + Math.hypot(...second))) * Math.sign(third[2] || 1);
  const [right, up, from] = [scaled(first, scale), scaled(second, scale), scaled(third, scale)];
  const camera: XYZ = [-dot(right, from), -dot(up, from), -dot(crossed(right, up), from)];
  if (!(camera[2] > 0)) throw new Refusal("points_refused", { points: "behind" });
  return camera;
}

/** Angle and height at which the line of sight through a plane point meets the wall; throws Refusal `outline_leaves_wall`. */
export function meetWall(round: Round, plane: Plane, camera: XYZ, [u, v]: XY): [angle: number, z: number] {
  const place = (a: number, b: number, c: number): XYZ => [0, 1, 2].map((k) => plane.origin[k]! + a * plane.right[k]! + b * plane.up[k]! + c * plane.out[k]!) as unknown as XYZ;
  const [from, through] = [place(...camera), place(u, v, 0)];
  const at = (t: number): XYZ => [from[0] + t * (through[0] - from[0]), from[1] + t * (through[1] - from[1]), from[2] + t * (through[2] - from[2])];
  const inside = ([x, y, z]: XYZ) => z >= 0 && z <= round.height && Math.hypot(x, y) <= round.radius(z);
  let outer = NEAREST, inner = NEAREST;
  while (!inside(at(inner))) {
    outer = inner;
    inner += STEP;
    if (inner > FARTHEST) throw new Refusal("outline_leaves_wall", { points_m: "past the wall" });
  }
  for (let k = 0; k < HALVINGS; k++) {
    const middle = (outer + inner) / 2;
    if (inside(at(middle))) inner = middle;
    else outer = middle;
  }
  const [x, y, z] = at(inner);
  return [Math.atan2(x, -y), z];
}
