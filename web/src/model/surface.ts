/** A wall's surface as rows describe it, read into a shape or refused; and places on it. Twin of science/surface.py. */
import { cap, lancet, profile, type Round } from "./dome";
import { Refusal } from "./refusal";
import type { FlatSurface, Surface, View, WallPoint } from "./types";

export const LARGEST_M = 500;
export const SMALLEST_M = 0.001;
export const MOST_PROFILE_POINTS = 200;
export const STEEPEST_BATTER_DEG = 60;
const LARGEST_NUMBER = 1e12;

export type Flat = { readonly width: number; readonly height: number; /** Length up the face per metre of height. */ readonly stretch: number };
export type Shape = { readonly flat: Flat; readonly round: null } | { readonly flat: null; readonly round: Round };
export type XY = readonly [number, number];

export const isPlainNumber = (value: unknown): value is number => typeof value === "number" && Math.abs(value) <= LARGEST_NUMBER;

const refuse = (field: string, what: string) => new Refusal("surface_refused", { [field]: what });

type Given = Readonly<Record<string, unknown>>;

function numberOf(given: Given, field: string, missing?: number): number {
  const value = given[field] === undefined ? missing : given[field];
  if (!isPlainNumber(value)) throw refuse(field, "not a number");
  return value;
}

function lengthOf(given: Given, field: string): number {
  const length = numberOf(given, field);
  if (!(length >= SMALLEST_M && length <= LARGEST_M)) throw refuse(field, "from 0.001 to 500 m");
  return length;
}

function readFlat(given: Given): Flat {
  const batter = numberOf(given, "batter_deg", 0);
  if (Math.abs(batter) > STEEPEST_BATTER_DEG) throw refuse("batter_deg", "from -60 to 60");
  return { width: lengthOf(given, "width_m"), height: lengthOf(given, "height_m"), stretch: 1 / Math.cos((batter * Math.PI) / 180) };
}

function readLancet(given: Given): Round {
  const a = lengthOf(given, "base_radius_m"), h = lengthOf(given, "height_m");
  if (h < a) throw refuse("height_m", `at least ${a}`);
  return lancet(a, h);
}

function readCone(given: Given): Round {
  const foot = lengthOf(given, "base_radius_m"), h = lengthOf(given, "height_m");
  const top = numberOf(given, "top_radius_m", 0) === 0 ? 0 : lengthOf(given, "top_radius_m");
  return profile([[foot, 0], [top, h]]);
}

function readRing(value: unknown, last: boolean): [number, number] {
  if (!Array.isArray(value) || value.length !== 2) throw refuse("points_m", "pairs of radius and height");
  const [r, z] = value as unknown[];
  if (!isPlainNumber(r) || !isPlainNumber(z)) throw refuse("points_m", "not a number");
  if (!(r >= (last ? 0 : SMALLEST_M) && r <= LARGEST_M && z >= 0 && z <= LARGEST_M)) throw refuse("points_m", "out of range");
  return [r, z];
}

function readProfile(given: Given): Round {
  const value = given.points_m;
  if (!Array.isArray(value) || value.length < 2 || value.length > MOST_PROFILE_POINTS) throw refuse("points_m", "2 to 200 points");
  const rings = value.map((ring, k) => readRing(ring, k === value.length - 1));
  if (rings[0]![1] !== 0) throw refuse("points_m", "first height is not 0");
  if (rings.some(([, z], k) => k > 0 && z - rings[k - 1]![1] < SMALLEST_M)) throw refuse("points_m", "not rising");
  return profile(rings);
}

function readDome(given: Given): Round {
  switch (given.shape) {
    case "hemisphere": {
      const r = lengthOf(given, "radius_m");
      return cap(r, r);
    }
    case "cap": return cap(lengthOf(given, "base_radius_m"), lengthOf(given, "height_m"));
    case "lancet": return readLancet(given);
    case "cone": return readCone(given);
    case "profile": return readProfile(given);
    default: throw refuse("shape", "unknown");
  }
}

/** Read a surface; throws Refusal `surface_refused` with the fields to mend. */
export function shapeOf(surface: unknown): Shape {
  if (typeof surface !== "object" || surface === null || Array.isArray(surface)) throw refuse("surface", "not a description");
  const given = surface as Given;
  switch (given.kind) {
    case "flat": return { flat: readFlat(given), round: null };
    case "round_wall": {
      const r = lengthOf(given, "radius_m");
      return { flat: null, round: profile([[r, 0], [r, lengthOf(given, "height_m")]]) };
    }
    case "dome": return { flat: null, round: readDome(given) };
    default: throw refuse("kind", "unknown");
  }
}

/** Return the surface if it can be a wall; throws Refusal `surface_refused`. */
export function checkSurface(surface: unknown): Surface {
  shapeOf(surface);
  return (surface as Surface).kind === "flat" ? { batter_deg: 0, ...(surface as Omit<FlatSurface, "batter_deg">) } : (surface as Surface);
}

/** Throws Refusal `bad_value` for a view that does not exist, or from above where the wall does not show once and only once. */
export function checkView(shape: Shape, view: string): asserts view is View {
  if (view !== "seen" && view !== "unrolled" && view !== "above") throw new Refusal("bad_value", { view: "unknown" });
  if (view === "above" && !shape.round?.showsAbove) throw new Refusal("bad_value", { view: "not above" });
}

/** Set view points that lie off the wall by no more than a millimetre back onto it; throws Refusal `outline_leaves_wall`. */
export function settle(shape: Shape, view: View, points: readonly XY[]): XY[] {
  return points.map((point, k) => {
    const onWall = shape.round && view === "above" ? settleAbove(shape.round, point) : settleUpright(shape, view, point);
    if (!onWall) throw new Refusal("outline_leaves_wall", { points_m: `point ${k + 1}` });
    return onWall;
  });
}

function into(value: number, low: number, high: number): number | null {
  if (!(value >= low - SMALLEST_M && value <= high + SMALLEST_M)) return null;
  return Math.min(Math.max(value, low), high);
}

function settleUpright({ flat, round }: Shape, view: View, [x, y]: XY): XY | null {
  const z = into(y, 0, (flat ?? round).height);
  if (z === null) return null;
  if (flat || view === "unrolled") {
    const settled = into(x, 0, flat ? flat.width : 2 * Math.PI * round!.foot);
    return settled === null ? null : [settled, z];
  }
  const r = round.radius(z);
  if (Math.abs(x) <= r + SMALLEST_M) return [Math.min(Math.max(x, -r), r), z];
  // Near a round crown a millimetre down is centimetres across.
  const down = Math.max(0, z - SMALLEST_M), up = Math.min(round.height, z + SMALLEST_M);
  let wider = round.radius(up) > round.radius(down) ? up : down, narrower = z;
  const reach = round.radius(wider);
  if (Math.abs(x) > reach) return Math.abs(x) <= reach + SMALLEST_M ? [Math.sign(x) * reach, wider] : null;
  for (let k = 0; k < 50; k++) {
    const middle = (wider + narrower) / 2;
    if (round.radius(middle) >= Math.abs(x)) wider = middle;
    else narrower = middle;
  }
  return [x, wider];
}

function settleAbove(round: Round, [x, y]: XY): XY | null {
  const rho = Math.hypot(x, y), settled = into(rho, round.top, round.shown);
  if (settled === null) return null;
  return settled === rho || rho === 0 ? [x, y] : [(x * settled) / rho, (y * settled) / rho];
}

/** Angle in radians from the drawn middle line, positive to the viewer's right, and height in metres, of a view point. */
export function angleOf(round: Round, view: View, [x, y]: XY): [angle: number, z: number] {
  if (view === "above") return [Math.atan2(x, -y), round.heightAt(Math.hypot(x, y))];
  if (view === "unrolled") return [x / round.foot - Math.PI, y];
  const r = round.radius(y);
  return [r > 0 ? Math.asin(Math.min(Math.max(x / r, -1), 1)) : 0, y];
}

/** The view point at an angle (-pi to pi) and height; null where this view hides it. */
export function pointOf(round: Round, view: View, angle: number, z: number): XY | null {
  if (view === "unrolled") return [(angle + Math.PI) * round.foot, z];
  const r = round.radius(z);
  if (view === "above") return z < round.heightAt(round.shown) - SMALLEST_M ? null : [r * Math.sin(angle), -r * Math.cos(angle)];
  return Math.abs(angle) > Math.PI / 2 ? null : [r * Math.sin(angle), z];
}

/** The bearing a view point faces, from that of the drawn middle line; bearings fall towards the viewer's right. */
export function bearingAt(surface: Surface, view: View, point: WallPoint, bearingDeg: number): number {
  const { round } = shapeOf(surface);
  const turn = round ? (angleOf(round, view, point)[0] * 180) / Math.PI : 0;
  return (((bearingDeg - turn) % 360) + 360) % 360;
}

export const surfaceHeight = (surface: Surface): number => {
  const { flat, round } = shapeOf(surface);
  return (flat ?? round).height;
};

/** Half the width the front view shows at a height; on flat walls half the whole width. */
export function surfaceHalfWidthAt(surface: Surface, z: number): number {
  const { flat, round } = shapeOf(surface);
  return flat ? flat.width / 2 : round.radius(Math.min(Math.max(z, 0), round.height));
}

/** Width of the front view. */
export function seenWidth(surface: Surface): number {
  const { flat, round } = shapeOf(surface);
  return flat ? flat.width : 2 * round.shown;
}

/** Width of the unrolled view. */
export function unrolledWidth(surface: Surface): number {
  const { flat, round } = shapeOf(surface);
  return flat ? flat.width : 2 * Math.PI * round.foot;
}

/** The wall's edge in a view, not closed; n points to each curved side, or round the rim from above. */
export function silhouettePath(surface: Surface, view: View, n = 48): [number, number][] {
  const { flat, round } = shapeOf(surface);
  if (round && view === "above") {
    const turns = Array.from({ length: n }, (_, k) => (2 * Math.PI * k) / n);
    return turns.map((turn) => [round.shown * Math.cos(turn), round.shown * Math.sin(turn)]);
  }
  if (flat || view === "unrolled") {
    const width = unrolledWidth(surface), { height } = flat ?? round;
    return [[0, 0], [width, 0], [width, height], [0, height]];
  }
  const heights = Array.from({ length: n + 1 }, (_, k) => round.height * Math.sin(((Math.PI / 2) * k) / n));
  const right = round.rings ? round.rings.map(([r, z]): [number, number] => [r, z]) : heights.map((z): [number, number] => [round.radius(z), z]);
  const left = right.filter(([r]) => r > 0).map(([r, z]): [number, number] => [-r, z]).reverse();
  return [...right, ...left];
}
