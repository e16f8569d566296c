/** Measuring on a photo while it is being done: which photo, which four points, which outline, where on the wall. */
import { cornersOf, openingRing } from "../drawing/projection";
import type { Elevation, PhotoPoint, View, WallPoint } from "../types";
import type { Placed } from "./measure";
import { FRAME_PX, type PhotoSize, levelByPhoto } from "./placing";
import { CARDS, type CardId, checkRectangle, cornersOfRectangle, roundFromUpperLeft, standsUpright, turned } from "./reference";

export type Stage = "photo" | "points" | "outline" | "wall";
export const STAGES: readonly Stage[] = ["photo", "points", "outline", "wall"];
/** A card of known size, a rectangle somebody measured, the wall's own corners, or the place of an opening in the list ("opening 2"). */
export type Reference = CardId | "own" | "corners" | `opening ${number}`;

export type OnPhoto = {
  stage: Stage;
  /** SHA-256 of the photo. */
  of: string | null;
  reference: Reference;
  own: { width_m: number | null; height_m: number | null };
  /** How a card lies, if a person said so; else as the photo shows it. */
  lies: "across" | "upright" | null;
  level: "card" | "photo";
  /** In frame pixels (`placing.ts`), as all that follows. */
  points: PhotoPoint[];
  /** Frame pixels to a pixel of the screen when each of the points was set: the closer one looked, the surer it is. */
  seen_px: number[];
  by: "hand" | "colour";
  /** The tap whose colour was looked for, and how often "more" (above 0) or "less" was pressed. */
  tap: PhotoPoint | null;
  steps: number;
  outline: PhotoPoint[];
  view: View;
  middle: WallPoint | null;
  /** The sentence that went into the note the last time it was kept. */
  noted?: string | null;
};

/** `middle`: where the damage was marked already. */
export function beginOnPhoto(view: View, middle: WallPoint | null, reference: Reference): OnPhoto {
  return {
    stage: "photo", of: null, reference, own: { width_m: null, height_m: null }, lies: null, level: "card", points: [], seen_px: [],
    by: "colour", tap: null, steps: 0, outline: [], view, middle,
  };
}

export const isCard = (reference: Reference): reference is CardId => reference in CARDS;
/** Whether the four points have their own place on the wall. */
export const isKnown = (reference: Reference): boolean => reference === "corners" || reference.startsWith("opening");

/** Four places on the wall in its front view, from the upper left round. */
function knownPlaces({ surface, openings }: Elevation, reference: Reference): WallPoint[] {
  const opening = openings?.[Number(reference.split(" ")[1])];
  if (reference === "corners" || !opening) return cornersOf(surface);
  return openingRing({ ...opening, head: "flat" }).reverse();
}

/** The card's own size, long side as it lies. */
export function rectangleOf({ reference, own, lies }: OnPhoto, corners: readonly PhotoPoint[]) {
  if (!isCard(reference)) return checkRectangle(own);
  const upright = lies === null ? standsUpright(corners) : lies === "upright";
  return upright ? turned(CARDS[reference]) : CARDS[reference];
}

/** Standard error of a tap or drag under the loupe, in pixels of the screen, and the least in frame pixels, where corners blur. Assumed. */
const TAP_ERROR_SCREEN_PX = 0.5;
const LEAST_ERROR_PX = 1;

/** The points as a hand left them, in order as soon as there are four; what was not moved stays as sure as it was. */
export function withPoints(asked: OnPhoto, points: readonly PhotoPoint[], seen_px: number): Pick<OnPhoto, "points" | "seen_px"> {
  const before = new Map(asked.points.map((point, i) => [point.join(" "), asked.seen_px[i]]));
  const round = points.length === 4 && asked.points.length < 4 ? roundFromUpperLeft(points) : [...points];
  return { points: round, seen_px: round.map((point) => before.get(point.join(" ")) ?? seen_px) };
}

/** The photo's placing; null while points are missing. Throws Refusal `card_refused` and those of `placeOnPlane`. */
export function placedOf(asked: OnPhoto, elevation: Elevation, size: PhotoSize): Placed | null {
  if (asked.points.length < 4) return null;
  const photo = roundFromUpperLeft(asked.points);
  const error_px = photo.map((point) => Math.max(LEAST_ERROR_PX, TAP_ERROR_SCREEN_PX * (asked.seen_px[asked.points.indexOf(point)] ?? FRAME_PX)));
  if (isKnown(asked.reference)) return { photo, plane_m: knownPlaces(elevation, asked.reference), known: true, middle: null, size, error_px };
  const corners = cornersOfRectangle(rectangleOf(asked, photo));
  const plane_m = asked.level === "photo" ? levelByPhoto(photo, corners) : corners;
  return { photo, plane_m, known: false, middle: asked.middle, size, error_px };
}

/** A frame point on a picture whose longer side has `longer_px` pixels, and back. */
export const toPicture = ([x, y]: PhotoPoint, longer_px: number): PhotoPoint => [(x * longer_px) / FRAME_PX, (y * longer_px) / FRAME_PX];
export const toFrame = ([x, y]: PhotoPoint, longer_px: number): PhotoPoint => [(x * FRAME_PX) / longer_px, (y * FRAME_PX) / longer_px];
