/** What gives a photo its scale: a card of known size lying on the wall, or a rectangle a person measured. */
import { Refusal } from "../refusal";
import type { XY } from "../surface";
import type { PhotoPoint } from "../types";

export type Rectangle = { width_m: number; height_m: number };
export type CardId = "bank" | "a4" | "letter";

/** Long side across. Bank and identity cards: ISO/IEC 7810 ID-1; A4: ISO 216; US letter: ANSI Y14.1 size A (8.5 by 11 in). */
export const CARDS: Record<CardId, Rectangle> = {
  bank: { width_m: 0.0856, height_m: 0.05398 }, a4: { width_m: 0.297, height_m: 0.21 }, letter: { width_m: 0.2794, height_m: 0.2159 },
};

const LEAST_M = 0.02;
const MOST_M = 20;
const THINNEST = 20;

/** The rectangle itself; throws Refusal `card_refused` where a side is under 2 cm or over 20 m, or one side 20 times the other. */
export function checkRectangle(given: { width_m: number | null; height_m: number | null }): Rectangle {
  const { width_m, height_m } = given;
  const fits = (side: number | null): side is number => side !== null && side >= LEAST_M && side <= MOST_M;
  if (!fits(width_m) || !fits(height_m)) throw new Refusal("card_refused", { card: "a side" });
  if (Math.max(width_m, height_m) > THINNEST * Math.min(width_m, height_m)) throw new Refusal("card_refused", { card: "too thin" });
  return { width_m, height_m };
}

export const turned = ({ width_m, height_m }: Rectangle): Rectangle => ({ width_m: height_m, height_m: width_m });

/** Corners in metres from the middle, y up: upper left, upper right, lower right, lower left. */
export function cornersOfRectangle({ width_m, height_m }: Rectangle): XY[] {
  const [x, y] = [width_m / 2, height_m / 2];
  return [[-x, y], [x, y], [x, -y], [-x, -y]];
}

/** Four taps in any order as they go round from the upper left corner of the photo. */
export function roundFromUpperLeft(taps: readonly PhotoPoint[]): PhotoPoint[] {
  const middle: PhotoPoint = [taps.reduce((sum, p) => sum + p[0], 0) / taps.length, taps.reduce((sum, p) => sum + p[1], 0) / taps.length];
  const angle = (p: PhotoPoint) => Math.atan2(p[1] - middle[1], p[0] - middle[0]);
  const round = [...taps].sort((a, b) => angle(a) - angle(b));
  const first = round.reduce((best, p, i) => (p[0] + p[1] < round[best]![0] + round[best]![1] ? i : best), 0);
  return [...round.slice(first), ...round.slice(0, first)];
}

/** Whether four corners from the upper left are taller than wide as the photo shows them. */
export function standsUpright(corners: readonly PhotoPoint[]): boolean {
  const side = (i: number, j: number) => Math.hypot(corners[i]![0] - corners[j]![0], corners[i]![1] - corners[j]![1]);
  return side(1, 2) + side(3, 0) > side(0, 1) + side(2, 3);
}
