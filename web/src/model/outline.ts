/**
 * The true size of what was drawn on a wall: area and edge of an outline, length of a line. Twin of science/outline.py, where
 * the derivation, its range and its sources stand; both are held to shared/vectors/area.json and length.json.
 */
import type { Round } from "./dome";
import { Refusal } from "./refusal";
import { angleOf, checkView, isPlainNumber, settle, shapeOf, SMALLEST_M, type Flat, type Shape, type XY } from "./surface";
import type { Surface, View } from "./types";

export type AreaReckoned = { area_m2: number; as_drawn_m2: number; perimeter_m: number; warnings: string[] };
export type LengthReckoned = { length_m: number; as_drawn_m: number; warnings: string[] };
type Segment = readonly [XY, XY];
type Pair = [area: number, length: number];
/** One drawn edge: where to cut it, and (area, length) per unit of t at t in 0 to 1, written into `into`. */
type Edge = { cuts: number[]; at: (t: number, into: Pair) => void };
type Steep = { found: boolean };

const MOST_POINTS = 2000;
const STEEPEST_VIEW = (75 * Math.PI) / 180;
const LEAST_COS = Math.cos(STEEPEST_VIEW);
const MOST_FALL = Math.tan(STEEPEST_VIEW);
const SAME_POINT_M = 1e-9;
const RELATIVE = 1e-12;
const ROUNDING = 1e-15;
const ON_SILHOUETTE = 1e-13;
// Chords along a rim end where rounding outgrows any halving: a length is good to this share of itself, and no piece is halved more often.
const LENGTH_ROUNDING = 1e-11;
const DEEPEST = 12;
const HALF_GAUSS = [
  [0.1252334085114689, 0.2491470458134027], [0.3678314989981802, 0.2334925365383546], [0.5873179542866175, 0.20316742672306573],
  [0.7699026741943047, 0.16007832854334642], [0.9041172563704748, 0.10693932599531907], [0.9815606342467192, 0.04717533638651141],
] as const;
const GAUSS = [
  ...HALF_GAUSS.map(([x, w]) => [(1 + x) / 2, w / 2] as const),
  ...HALF_GAUSS.map(([x, w]) => [(1 - x) / 2, w / 2] as const),
];

/**
 * True area and edge of an outline of 3 or more view points; without one, of the whole surface. Throws Refusal `surface_refused`,
 * `bad_value`, `outline_empty`, `outline_leaves_wall` or `outline_crosses_itself`. Warnings: `steep_view`, `far_side_counted`.
 */
export function reckonArea(surface: Surface, view: View, outline_m?: readonly XY[] | null): AreaReckoned {
  const shape = shapeOf(surface);
  checkView(shape, view);
  if (outline_m === undefined || outline_m === null) return wholeOf(shape, view);
  return measure(shape, view, checkRing(settle(shape, view, readPoints(outline_m))));
}

/** True length of a line of 2 or more view points, free to cross itself. Throws as `reckonArea`. */
export function reckonLength(surface: Surface, view: View, line_m: readonly XY[]): LengthReckoned {
  const shape = shapeOf(surface);
  checkView(shape, view);
  const points = withoutRepeats(settle(shape, view, readPoints(line_m)));
  if (points.length < 2) throw new Refusal("outline_empty", { points_m: "fewer than 2 points" });
  const segments = points.slice(1).map((q, k): Segment => [points[k]!, q]);
  const as_drawn_m = drawnLength(segments);
  if (shape.flat) return { length_m: lengthOnFlat(shape.flat, segments), as_drawn_m, warnings: [] };
  const { length, steep } = along(shape.round, view, segments, Infinity);
  return { length_m: length, as_drawn_m, warnings: steep ? ["steep_view"] : [] };
}

/**
 * True area of an outline that lies over openings, which need no plaster; each opening is a convex ring of the front view.
 * null where the outline was drawn on another view of a round surface, for which this is not reckoned.
 */
export function openingsOverlap(surface: Surface, view: View, outline_m: readonly XY[], openings: readonly (readonly XY[])[]): number | null {
  const shape = shapeOf(surface);
  checkView(shape, view);
  const ring = checkRing(settle(shape, view, readPoints(outline_m)));
  if (view !== "seen" && shape.round) return null;
  const pieces = openings.map((opening) => clip(ring, opening)).filter((piece) => piece.length > 2);
  return pieces.reduce((sum, piece) => sum + measure(shape, view, piece).area_m2, 0);
}

function measure(shape: Shape, view: View, points: readonly XY[]): AreaReckoned {
  const drawn = signedArea(points), segments = roundTrip(points), as_drawn_m2 = Math.abs(drawn);
  if (shape.flat) {
    return { area_m2: as_drawn_m2 * shape.flat.stretch, as_drawn_m2, perimeter_m: lengthOnFlat(shape.flat, segments), warnings: [] };
  }
  const { area, length, steep } = along(shape.round, view, segments, as_drawn_m2);
  const middle = view === "above" ? 2 * drawn * shape.round.crown(hyp(...points[0]!)) : 0;
  return { area_m2: Math.abs(area + middle), as_drawn_m2, perimeter_m: length, warnings: steep ? ["steep_view"] : [] };
}

function wholeOf({ flat, round }: Shape, view: View): AreaReckoned {
  if (flat) {
    const { width, height, stretch } = flat;
    return { area_m2: width * height * stretch, as_drawn_m2: width * height, perimeter_m: 2 * (width + height * stretch), warnings: [] };
  }
  const drawn = {
    seen: round.silhouette,
    unrolled: 2 * Math.PI * round.foot * round.height,
    above: Math.PI * (round.shown ** 2 - round.top ** 2),
  };
  const perimeter_m = 2 * Math.PI * (round.foot + round.top);
  return { area_m2: round.area, as_drawn_m2: drawn[view], perimeter_m, warnings: view === "seen" ? ["far_side_counted"] : [] };
}

const hyp = (x: number, y: number) => Math.sqrt(x * x + y * y);
const apart = (p: XY, q: XY) => hyp(q[0] - p[0], q[1] - p[1]);
const drawnLength = (segments: readonly Segment[]) => segments.reduce((sum, [p, q]) => sum + apart(p, q), 0);

function lengthOnFlat({ stretch }: Flat, segments: readonly Segment[]): number {
  return segments.reduce((sum, [p, q]) => sum + hyp(q[0] - p[0], (q[1] - p[1]) * stretch), 0);
}

function readPoints(value: unknown): XY[] {
  if (!Array.isArray(value) || value.length > MOST_POINTS) throw new Refusal("bad_value", { points_m: "a list of [x, y]" });
  return value.map((point: unknown) => {
    const [x, y] = Array.isArray(point) && point.length === 2 ? (point as unknown[]) : [];
    if (!isPlainNumber(x) || !isPlainNumber(y)) throw new Refusal("bad_value", { points_m: "pairs of numbers" });
    return [x, y];
  });
}

function withoutRepeats(points: readonly XY[]): XY[] {
  const kept: XY[] = [];
  for (const point of points) {
    const last = kept[kept.length - 1];
    if (!last || apart(last, point) > SAME_POINT_M) kept.push(point);
  }
  return kept;
}

/** The outline without repeats; throws Refusal where it has no area or crosses itself. */
export function checkRing(points: readonly XY[]): XY[] {
  const ring = withoutRepeats(points);
  while (ring.length > 1 && apart(ring[0]!, ring[ring.length - 1]!) <= SAME_POINT_M) ring.pop();
  // Made only where it is thrown: an error that nobody needs costs more than the whole area.
  const empty = () => new Refusal("outline_empty", { points_m: "no area" });
  if (ring.length < 3) throw empty();
  const first = ring[0]!;
  const far = ring.reduce((best, p) => (apart(first, p) > apart(first, best) ? p : best), first);
  const reach = apart(first, far);
  if (ring.every((p) => Math.abs(turn(first, far, p)) <= SAME_POINT_M * reach)) throw empty();
  if (crossesItself(ring)) throw new Refusal("outline_crosses_itself", { points_m: "crosses itself" });
  return ring;
}

function signedArea(points: readonly XY[]): number {
  const [x0, y0] = points[0]!;
  return roundTrip(points).reduce((sum, [p, q]) => sum + (p[0] - x0) * (q[1] - y0) - (q[0] - x0) * (p[1] - y0), 0) / 2;
}

const roundTrip = (points: readonly XY[]): Segment[] => points.map((p, k): Segment => [p, points[(k + 1) % points.length]!]);

/** Twice the area of triangle abc, with what is only rounding set to 0. */
function turn(a: XY, b: XY, c: XY): number {
  const first = (b[0] - a[0]) * (c[1] - a[1]), second = (b[1] - a[1]) * (c[0] - a[0]);
  return Math.abs(first - second) <= 1e-13 * (Math.abs(first) + Math.abs(second)) ? 0 : first - second;
}

/** Whether edges of a closed ring share more than the corner between neighbours; sweeps by x. */
export function crossesItself(ring: readonly XY[]): boolean {
  const n = ring.length;
  const edges = roundTrip(ring).map(([p, q], k) => ({ left: Math.min(p[0], q[0]), right: Math.max(p[0], q[0]), k, p, q }));
  edges.sort((one, other) => one.left - other.left);
  for (let i = 0; i < n; i++) {
    const { right, k, p, q } = edges[i]!;
    for (let j = i + 1; j < n && edges[j]!.left <= right; j++) {
      const { k: l, p: a, q: b } = edges[j]!;
      if ((k + 1) % n === l ? doublesBack(p, q, b) : (l + 1) % n === k ? doublesBack(a, b, q) : meet(p, q, a, b)) return true;
    }
  }
  return false;
}

function doublesBack(a: XY, b: XY, c: XY): boolean {
  return turn(a, b, c) === 0 && (a[0] - b[0]) * (c[0] - b[0]) + (a[1] - b[1]) * (c[1] - b[1]) > 0;
}

function meet(p: XY, q: XY, a: XY, b: XY): boolean {
  if (Math.max(p[1], q[1]) < Math.min(a[1], b[1]) || Math.max(a[1], b[1]) < Math.min(p[1], q[1])) return false;
  return turn(p, q, a) * turn(p, q, b) <= 0 && turn(a, b, p) * turn(a, b, q) <= 0;
}

/** Sum of area and length along edges, and whether any part is seen too steeply. */
function along(round: Round, view: View, segments: readonly Segment[], drawn_m2: number): { area: number; length: number; steep: boolean } {
  const start = segments[0]![0], steep: Steep = { found: false };
  const enough: Pair = [RELATIVE * drawn_m2, RELATIVE * drawnLength(segments)];
  const edgeOf = { seen: seenEdge, unrolled: unrolledEdge, above: aboveEdge }[view];
  let area = 0, length = 0;
  for (const [p, q] of segments) {
    const edge = edgeOf(round, p, q, start, steep), cuts = [...edge.cuts, 1];
    let low = 0;
    for (const high of cuts) {
      const [a, d] = integrate(edge.at, low, high, enough);
      area += a;
      length += d;
      low = high;
    }
  }
  return { area, length, steep: steep.found };
}

/** Integrate a pair over t from low to high; halves s until both halves agree with the whole. */
function integrate(at: Edge["at"], low: number, high: number, enough: Pair): Pair {
  const here: Pair = [0, 0];
  const gauss = (s0: number, s1: number): Pair => {
    let a = 0, d = 0;
    for (const [x, weight] of GAUSS) {
      const s = s0 + (s1 - s0) * x;
      at(low + (high - low) * s * s * (3 - 2 * s), here);
      const w = weight * (6 * s * (1 - s) * (s1 - s0) * (high - low));
      a += w * here[0];
      d += w * here[1];
    }
    return [a, d];
  };
  let area = 0, length = 0;
  const waiting: [s0: number, s1: number, whole: Pair, depth: number][] = [[0, 1, gauss(0, 1), 0]];
  for (let next = waiting.pop(); next; next = waiting.pop()) {
    const [s0, s1, [a, d], depth] = next, middle = (s0 + s1) / 2;
    const one = gauss(s0, middle), two = gauss(middle, s1);
    const still = Math.abs(one[0] + two[0] - a) <= enough[0] + ROUNDING * (Math.abs(one[0]) + Math.abs(two[0]))
      && Math.abs(one[1] + two[1] - d) <= enough[1] + LENGTH_ROUNDING * (one[1] + two[1]);
    if (still || depth >= DEEPEST) {
      area += one[0] + two[0];
      length += one[1] + two[1];
    } else waiting.push([s0, middle, one, depth + 1], [middle, s1, two, depth + 1]);
  }
  return [area, length];
}

function heightCuts(round: Round, p: XY, q: XY): number[] {
  const low = Math.min(p[1], q[1]), high = Math.max(p[1], q[1]);
  return round.breaks.filter((z) => low < z && z < high).map((z) => (z - p[1]) / (q[1] - p[1])).sort((a, b) => a - b);
}

function seenEdge(round: Round, [x0, z0]: XY, q: XY, start: XY, steep: Steep): Edge {
  const dx = q[0] - x0, dz = q[1] - z0, first = angleOf(round, "seen", start)[0];
  const cuts = heightCuts(round, [x0, z0], q);
  if (cuts.some((t) => Math.abs(x0 + t * dx) > round.radius(z0 + t * dz) + SMALLEST_M)) {
    throw new Refusal("outline_leaves_wall", { points_m: "an edge beside the wall" });
  }
  const at: Edge["at"] = (t, into) => {
    const x = x0 + t * dx, z = z0 + t * dz, r = round.radius(z);
    if (r <= 0) {
      into[0] = -round.weight(z) * first * dz;
      into[1] = hyp(dx, dz);
      return;
    }
    let u = Math.min(Math.max(x / r, -1), 1);
    if (1 - Math.abs(u) < ON_SILHOUETTE) u = Math.sign(u);
    const slope = round.slope(z), lean = Math.sqrt(1 + slope * slope), side = Math.sqrt((1 - u) * (1 + u));
    steep.found ||= side < LEAST_COS * lean;
    into[0] = round.weight(z) * (Math.asin(u) - first) * dz;
    into[1] = hyp(lean * dz, side > 0 ? (dx - u * slope * dz) / side : 0);
  };
  return { cuts, at };
}

function unrolledEdge(round: Round, [x0, z0]: XY, q: XY, start: XY): Edge {
  const dx = q[0] - x0, dz = q[1] - z0;
  const at: Edge["at"] = (t, into) => {
    const z = z0 + t * dz, r = round.radius(z);
    const lean = dz !== 0 && r > 0 ? Math.sqrt(1 + round.slope(z) ** 2) : 1;
    into[0] = ((round.weight(z) * (x0 - start[0] + t * dx)) / round.foot) * dz;
    into[1] = hyp(lean * dz, (r * dx) / round.foot);
  };
  return { cuts: heightCuts(round, [x0, z0], q), at };
}

function aboveEdge(round: Round, [x0, y0]: XY, q: XY, start: XY, steep: Steep): Edge {
  const dx = q[0] - x0, dy = q[1] - y0, long2 = dx * dx + dy * dy;
  const cross = x0 * q[1] - y0 * q[0], first = round.crown(hyp(...start)), near = -(x0 * dx + y0 * dy) / long2;
  const cuts = [near];
  for (const rho of round.aboveBreaks) {
    const half = (rho * rho) / long2 - (cross / long2) ** 2;
    if (half > 0) cuts.push(near - Math.sqrt(half), near + Math.sqrt(half));
  }
  const at: Edge["at"] = (t, into) => {
    const x = x0 + t * dx, y = y0 + t * dy, rho = hyp(x, y);
    const inward = rho > 0 ? (x * dx + y * dy) / rho : Math.sqrt(long2);
    const fall = round.fall(rho);
    steep.found ||= fall > MOST_FALL;
    into[0] = cross * (round.crown(rho) - first);
    into[1] = Math.sqrt(long2 + (fall * inward) ** 2);
  };
  return { cuts: cuts.filter((t) => t > 0 && t < 1).sort((a, b) => a - b), at };
}

/** Cut a ring down to a convex one, side by side; parts that fall apart stay joined by empty edges. */
function clip(ring: readonly XY[], convex: readonly XY[]): XY[] {
  let kept = [...ring];
  for (const [a, b] of roundTrip(signedArea(convex) > 0 ? convex : [...convex].reverse())) {
    const cut: XY[] = [];
    for (const [p, q] of roundTrip(kept)) {
      const inside = turn(a, b, p), outside = turn(a, b, q);
      if (inside >= 0) cut.push(p);
      if (inside * outside < 0) {
        const t = inside / (inside - outside);
        cut.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
      }
    }
    kept = withoutRepeats(cut);
  }
  return kept;
}
