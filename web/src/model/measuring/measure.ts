/** An outline on a placed photo as it lies on the wall: its points in the elevation's view, true area and edge, and how sure that is. */
import { boxOf, toMm } from "../drawing/plan";
import { checkRing, reckonArea } from "../outline";
import { Refusal } from "../refusal";
import { type Shape, type XY, angleOf, pointOf, shapeOf } from "../surface";
import type { PhotoPoint, Surface, View, WallPoint } from "../types";
import { type PhotoSize, doubtsOf, onPlane, placeOnPlane } from "./placing";
import { FOCAL_SHARES, type Plane, type XYZ, cameraOf, meetWall, planeThrough, pointInSpace, touchingPlane } from "./sight";

export type Placed = {
  /** Four points on the photo, and the same four on a plane in metres: a card's corners from its middle, or places on the wall. */
  photo: readonly PhotoPoint[];
  plane_m: readonly XY[];
  /** Whether `plane_m` are places on the wall in its front view; else the middle of the outline lies at `middle`. */
  known: boolean;
  middle: WallPoint | null;
  size: PhotoSize;
  /** Standard error of each of the four in x and in y, in frame pixels. */
  error_px: readonly number[];
};
export type Measured = {
  view: View; points_m: WallPoint[]; area_m2: number; perimeter_m: number; low_m2: number; high_m2: number;
  /** `near_horizon`, `far_from_points`, `points_small`, `curves_away`, `wide_range`, and those of `reckonArea`. */
  warnings: string[];
};

/** How far out or in of the true edge an outline runs all round (standard error), as a share of the photo's longer side. Assumed. */
const EDGE_ERROR_SHARE = 0.001;
/** The range is this many standard errors to each side. */
const ERRORS_SHOWN = 2;
/** Edges are cut so finely on a round wall that the whole outline has about this many points. */
const ROUND_POINTS = 120;
/** The range is worked out on a coarser one: it asks for the area some twenty times. */
const RANGE_POINTS = 40;
const CURVES_AWAY_DEG = 30;
/** A range wider than this share of the area is nothing to plan with. */
const WIDE_SHARE = 0.5;
const PASSES = 3;

type Ask = Placed & { surface: Surface; view: View; shape: Shape; focal: number };

/** Four front-view places as they lie on the wall's own face (flat), or on the plane through them (round). */
function planeOfKnown({ shape, plane_m }: Ask): { plane: Plane | null; points_m: readonly XY[] } {
  const { flat, round } = shape;
  if (flat) return { plane: null, points_m: plane_m.map(([x, y]): XY => [x, y * flat.stretch]) };
  return planeThrough(plane_m.map((point) => pointInSpace(round, ...angleOf(round, "seen", point))));
}

const midOf = (points: readonly XY[]): XY => {
  const { x0, x1, y0, y1 } = boxOf(points);
  return [(x0 + x1) / 2, (y0 + y1) / 2];
};

function onFlat(ask: Ask, on_plane_m: readonly XY[], stretch: number): XY[] {
  const points = on_plane_m.map(([u, v]): XY => [u, v / stretch]);
  if (ask.known || !ask.middle) return points;
  const [x, y] = midOf(points);
  return points.map((p): XY => [p[0] - x + ask.middle![0], p[1] - y + ask.middle![1]]);
}

type Angles = [angle: number, z: number][];

/** The card's plane is laid where the middle of the outline comes to lie on the given place. */
function aroundMiddle(ask: Ask, on_plane_m: readonly XY[], trace: (plane: Plane) => Angles): Angles {
  const { round } = ask.shape;
  if (!round || !ask.middle) throw new Refusal("middle_missing", { middle: "not given" });
  const [wanted, height] = angleOf(round, ask.view, ask.middle);
  const [u, v] = midOf(on_plane_m);
  const onWall = (z: number) => Math.min(Math.max(z, 0), round.height);
  let angle = wanted - u / Math.max(round.radius(height), 1e-3), z = onWall(height - v / Math.hypot(1, round.slope(onWall(height))));
  let found: Angles = [];
  for (let pass = 0; pass < PASSES; pass++) {
    found = trace(touchingPlane(round, angle, z));
    const [midAngle, midZ] = midOf(found);
    angle += wanted - midAngle;
    z = onWall(z + height - midZ);
  }
  return found;
}

function onRound(ask: Ask, plane: Plane | null, on_plane_m: readonly XY[], camera: XYZ): XY[] {
  const round = ask.shape.round!;
  const trace = (on: Plane) => on_plane_m.map((point) => meetWall(round, on, camera, point));
  const found = plane ? trace(plane) : aroundMiddle(ask, on_plane_m, trace);
  const angles = found.map(([angle]) => angle);
  if (Math.max(...angles) - Math.min(...angles) > Math.PI) throw new Refusal("outline_leaves_wall", { points_m: "round the back" });
  return found.map(([angle, z]) => {
    const shown = pointOf(round, ask.view, angle, z);
    if (!shown) throw new Refusal("outline_leaves_wall", { points_m: "does not show in this view" });
    return shown;
  });
}

/** Photo points in metres of the elevation's view. */
function onWall(ask: Ask, outline: readonly PhotoPoint[]): XY[] {
  const { plane, points_m } = ask.known ? planeOfKnown(ask) : { plane: null, points_m: ask.plane_m };
  const matrix = placeOnPlane(ask.photo, points_m);
  const on_plane_m = outline.map((point) => onPlane(matrix, point));
  const { flat } = ask.shape;
  return flat ? onFlat(ask, on_plane_m, flat.stretch) : onRound(ask, plane, on_plane_m, cameraOf(matrix, ask.size, ask.focal));
}

/** The outline with more points along its edges, which are straight on the photo and not on a round wall. */
function cutFinely(outline: readonly PhotoPoint[], size: PhotoSize, count: number): PhotoPoint[] {
  const length = outline.reduce((sum, p, i) => sum + Math.hypot(p[0] - outline[(i + 1) % outline.length]![0], p[1] - outline[(i + 1) % outline.length]![1]), 0);
  const step = Math.max(length / count, Math.max(size.width_px, size.height_px) / 1000);
  return outline.flatMap((p, i) => {
    const q = outline[(i + 1) % outline.length]!;
    const pieces = Math.max(1, Math.round(Math.hypot(q[0] - p[0], q[1] - p[1]) / step));
    return Array.from({ length: pieces }, (_, k): PhotoPoint => [p[0] + ((q[0] - p[0]) * k) / pieces, p[1] + ((q[1] - p[1]) * k) / pieces]);
  });
}

const areaOf = (ask: Ask, outline: readonly PhotoPoint[]) => reckonArea(ask.surface, ask.view, onWall(ask, outline)).area_m2;

/** How the area moves when one coordinate of one of the four taps is off by `error_px`; one side only where the other cannot be. */
function moved(ask: Ask, outline: readonly PhotoPoint[], area_m2: number, at: { index: number; axis: number }): number {
  const error_px = ask.error_px[at.index]!;
  const off = [1, -1].map((sign) => {
    const photo = ask.photo.map((p, i): PhotoPoint => (i !== at.index ? p : at.axis === 0 ? [p[0] + sign * error_px, p[1]] : [p[0], p[1] + sign * error_px]));
    try {
      return Math.abs(areaOf({ ...ask, photo }, outline) - area_m2);
    } catch (error) {
      if (error instanceof Refusal) return null;
      throw error;
    }
  }).filter((one) => one !== null);
  return off.length ? Math.max(...off) : 0;
}

/** Share of the area by which a line drawn all round `error_px` too far out or in is wrong. */
function edgeShare(outline: readonly PhotoPoint[], error_px: number): number {
  let [twice, length] = [0, 0];
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length]!;
    twice += p[0] * q[1] - q[0] * p[1];
    length += Math.hypot(q[0] - p[0], q[1] - p[1]);
  });
  return (length * error_px) / Math.max(Math.abs(twice) / 2, 1);
}

/** Low and high over the area itself: errors of the eight tapped coordinates and of the line, taken as independent; on round walls also the lens. */
function rangeOf(ask: Ask, outline: readonly PhotoPoint[]): [low: number, high: number] {
  const area_m2 = areaOf(ask, outline);
  const edge_px = EDGE_ERROR_SHARE * Math.max(ask.size.width_px, ask.size.height_px);
  const taps = [0, 1, 2, 3].flatMap((index) => [0, 1].map((axis) => moved(ask, outline, area_m2, { index, axis })));
  const error = ERRORS_SHOWN * Math.hypot(...taps, area_m2 * edgeShare(outline, edge_px));
  const lenses = ask.shape.flat ? [area_m2] : [FOCAL_SHARES.low, FOCAL_SHARES.high].map((focal) => areaWithLens({ ...ask, focal }, outline, area_m2));
  return [Math.max(0, Math.min(area_m2, ...lenses) - error) / area_m2, (Math.max(area_m2, ...lenses) + error) / area_m2];
}

function areaWithLens(ask: Ask, outline: readonly PhotoPoint[], otherwise_m2: number): number {
  try {
    return areaOf(ask, outline);
  } catch (error) {
    if (error instanceof Refusal) return otherwise_m2;
    throw error;
  }
}

/** Whether the wall has turned more than 30 degrees from one edge of the outline to the other. */
function curvesAway(ask: Ask, points: readonly XY[]): boolean {
  const { round } = ask.shape;
  if (!round) return false;
  const outs = points.map((point) => touchingPlane(round, ...angleOf(round, ask.view, point)).out);
  const box = [0, 1, 2].map((k) => Math.max(...outs.map((one) => one[k]!)) - Math.min(...outs.map((one) => one[k]!)));
  return Math.hypot(...box) > 2 * Math.sin((CURVES_AWAY_DEG * Math.PI) / 360);
}

/**
 * An outline of 3 or more photo points on the wall. Throws Refusal: of the four points as `placeOnPlane`; of the outline
 * `outline_empty`, `outline_crosses_itself`, `beyond_horizon`, `outline_leaves_wall`; `middle_missing` where a card's place is not given.
 */
export function measureOutline(placed: Placed, surface: Surface, view: View, outline: readonly PhotoPoint[]): Measured {
  const shape = shapeOf(surface);
  const ask: Ask = { ...placed, surface, view, shape, focal: FOCAL_SHARES.likely };
  if (!placed.known && !placed.middle) throw new Refusal("middle_missing", { middle: "not given" });
  const ring = checkRing(outline);
  const cut = (count: number) => (shape.flat ? ring : cutFinely(ring, placed.size, count));
  const points_m = onWall(ask, cut(ROUND_POINTS)).map((point) => toMm(point));
  const { area_m2, perimeter_m, warnings } = reckonArea(surface, view, points_m);
  const [low_m2, high_m2] = rangeOf(ask, cut(RANGE_POINTS)).map((share) => share * area_m2) as [number, number];
  const known = placed.known ? planeOfKnown(ask).points_m : placed.plane_m;
  const wide = high_m2 - low_m2 > WIDE_SHARE * area_m2;
  const doubts = [...doubtsOf(placed.photo, known, ring), ...(curvesAway(ask, points_m) ? ["curves_away"] : []), ...(wide ? ["wide_range"] : [])];
  return { view, points_m, area_m2, perimeter_m, low_m2, high_m2, warnings: [...doubts, ...warnings] };
}
