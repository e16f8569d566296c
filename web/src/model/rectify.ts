/** Laying a photo behind a wall's drawing: four photo points to four wall points. Twin of science/rectify.py, where range and derivation stand. */
import { Refusal } from "./refusal";
import { isPlainNumber, type XY } from "./surface";
import type { PhotoPoint, WallPoint } from "./types";

/** 9 numbers, row by row. */
export type Homography = readonly number[];

const LEAST_SINE = 0.005;
const HORIZON = 1e-12;
const TRIPLES = [[0, 1, 2], [0, 1, 3], [0, 2, 3], [1, 2, 3]] as const;

const refuse = (what: string) => new Refusal("points_refused", { points: what });

/** From photo pixels (y down) to wall metres (y up); third row 1 at the mean of the photo points. Throws Refusal `points_refused`. */
export function homography(photo: readonly PhotoPoint[], wall: readonly WallPoint[]): number[] {
  const fromPhoto = fourOf(photo, "photo"), toWall = fourOf(wall, "wall");
  const flipped = turnsOf(fromPhoto.map(([x, y]) => [x, -y]));
  if (turnsOf(toWall).some((left, k) => left !== flipped[k])) throw refuse("order");
  const matrix = product(fromUnitSquare(toWall), adjugate(fromUnitSquare(fromPhoto)));
  const x = fromPhoto.reduce((sum, p) => sum + p[0], 0) / 4, y = fromPhoto.reduce((sum, p) => sum + p[1], 0) / 4;
  const scale = matrix[6]! * x + matrix[7]! * y + matrix[8]!;
  return matrix.map((h) => h / scale);
}

/** Where a point goes; throws Refusal `points_refused` on or beyond the horizon of the four corners. */
export function applyHomography(matrix: Homography, [x, y]: XY): [number, number] {
  const [a, b, c, d, e, f, g, h, i] = matrix as [number, number, number, number, number, number, number, number, number];
  const w = g * x + h * y + i;
  if (w <= HORIZON * (Math.abs(g * x) + Math.abs(h * y) + Math.abs(i))) throw refuse("horizon");
  return [(a * x + b * y + c) / w, (d * x + e * y + f) / w];
}

/** From wall metres back to photo pixels; throws Refusal `points_refused` where there is no way back. */
export function invertHomography(matrix: Homography): number[] {
  const back = adjugate(matrix);
  const terms = [matrix[0]! * back[0]!, matrix[1]! * back[3]!, matrix[2]! * back[6]!];
  const determinant = terms[0]! + terms[1]! + terms[2]!;
  if (Math.abs(determinant) <= HORIZON * terms.reduce((sum, t) => sum + Math.abs(t), 0)) throw refuse("homography");
  return back.map((h) => h / determinant);
}

function fourOf(points: readonly XY[], which: string): XY[] {
  if (points.length !== 4 || !points.every((p) => p.length === 2 && p.every(isPlainNumber))) throw refuse(which);
  for (const [i, j, k] of TRIPLES) {
    const a = points[i]!, b = points[j]!, c = points[k]!;
    const sides = [Math.hypot(b[0] - a[0], b[1] - a[1]), Math.hypot(c[0] - b[0], c[1] - b[1]), Math.hypot(a[0] - c[0], a[1] - c[1])];
    if (Math.abs(turn(a, b, c)) <= LEAST_SINE * Math.max(...sides) ** 2 || Math.min(...sides) === 0) throw refuse(which);
  }
  const [p, q, r, s] = points as [XY, XY, XY, XY];
  if (cross(p, q, r, s) || cross(q, r, s, p)) throw refuse(which);
  return [...points];
}

const turn = (a: XY, b: XY, c: XY) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
const turnsOf = (corners: readonly XY[]) => TRIPLES.map(([i, j, k]) => turn(corners[i]!, corners[j]!, corners[k]!) > 0);
const cross = (a: XY, b: XY, c: XY, d: XY) => turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;

/** Take (0,0), (1,0), (1,1), (0,1) to the four corners. */
function fromUnitSquare(corners: readonly XY[]): number[] {
  const [[x0, y0], [x1, y1], [x2, y2], [x3, y3]] = corners as [XY, XY, XY, XY];
  const ax = x1 - x2, ay = y1 - y2, bx = x3 - x2, by = y3 - y2;
  const sx = x0 - x1 + x2 - x3, sy = y0 - y1 + y2 - y3, area = ax * by - ay * bx;
  const g = (sx * by - sy * bx) / area, h = (ax * sy - ay * sx) / area;
  return [x1 - x0 + g * x1, x3 - x0 + h * x3, x0, y1 - y0 + g * y1, y3 - y0 + h * y3, y0, g, h, 1];
}

function adjugate(matrix: Homography): number[] {
  const [a, b, c, d, e, f, g, h, i] = matrix as [number, number, number, number, number, number, number, number, number];
  return [e * i - f * h, c * h - b * i, b * f - c * e, f * g - d * i, a * i - c * g, c * d - a * f, d * h - e * g, b * g - a * h, a * e - b * d];
}

function product(m: Homography, n: Homography): number[] {
  return m.map((_, at) => [0, 1, 2].reduce((sum, k) => sum + m[3 * Math.floor(at / 3) + k]! * n[3 * k + (at % 3)]!, 0));
}
