/** An outline suggested from the colour under a tap: what looks like it and hangs together with it. A person accepts or redraws it. */
import { simplify } from "../drawing/plan";
import { crossesItself } from "../outline";
import { Refusal } from "../refusal";
import type { XY } from "../surface";
import type { PhotoPoint } from "../types";
import { type Pixels, distances, labsOf, meanWhere, medianAround } from "./colour";
import { type Mask, bandsOf, edgesTouched, filled, lineRound, otsu, pieceAt, sizeOfMask, smoothed } from "./region";

/** The longer side of the small picture on which a region is looked for. */
export const SUGGEST_PX = 320;
const MOST_POINTS = 60;
/** Each "more" lets colours differ by a fifth again, each "less" by a fifth less. */
const STEP = 1.2;
export const MOST_STEPS = 6;
/** Half the square whose middle colour stands for the damage, and how far from the tap a piece may begin; shares of the longer side. */
const TAP_SHARE = 0.012;
const LEAST_PIXELS = 24;
const MOST_SHARE = 0.85;
const TIGHTENINGS = 3;
const FIRST_TOLERANCE_PX = 1;
/** Colours nearer than this on both sides of the line are one and the same wall; 2.3 is just noticed (from memory), doubled for grain. */
const LEAST_CONTRAST = 4.6;
const BAND_PX = 3;

const nowhere = () => new Refusal("no_region", { seed: "no edge by colour" });

function pieceUnder(far: Float32Array, threshold: number, picture: Pixels, seed: readonly [number, number], reach: number): Mask | null {
  const mask: Mask = { width: picture.width, height: picture.height, on: Uint8Array.from(far, (one) => (one < threshold ? 1 : 0)) };
  const piece = pieceAt(smoothed(mask), seed, reach);
  return piece ? filled(piece) : null;
}

/** A piece that runs out at three edges is wall with damage in it: what else is in the picture, sky say, drew the threshold. */
const runsOut = (piece: Mask | null) => piece !== null && (edgesTouched(piece) >= 3 || sizeOfMask(piece) > MOST_SHARE * piece.on.length);

/** Whether the colour changes across the line round a piece, and not only the shade from one side of it to the other. */
function standsOut(labs: Float32Array, piece: Mask): boolean {
  const { inner, outer } = bandsOf(piece, BAND_PX);
  const [one, other] = [meanWhere(labs, inner), meanWhere(labs, outer)];
  return Math.hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]) >= LEAST_CONTRAST;
}

/** The piece of the picture that the tap lies in; `steps` widens (above 0) or narrows it. Throws Refusal `no_region`. */
export function regionAt(picture: Pixels, tap: XY, steps = 0): Mask {
  const { width, height } = picture;
  const seed = [Math.min(width - 1, Math.max(0, Math.floor(tap[0]))), Math.min(height - 1, Math.max(0, Math.floor(tap[1])))] as const;
  const reach = Math.max(2, Math.round(TAP_SHARE * Math.max(width, height)));
  const labs = labsOf(picture);
  const far = distances(labs, medianAround(labs, picture, seed, reach));
  const factor = STEP ** steps;
  let threshold = otsu(far);
  let piece = pieceUnder(far, threshold, picture, seed, reach);
  for (let k = 0; k < TIGHTENINGS && runsOut(piece); k++) {
    threshold = otsu(far, threshold);
    piece = pieceUnder(far, threshold, picture, seed, reach);
  }
  const found = steps === 0 ? piece : pieceUnder(far, threshold * factor, picture, seed, reach);
  if (!found || sizeOfMask(found) < LEAST_PIXELS || sizeOfMask(found) > MOST_SHARE * found.on.length || !standsOut(labs, found)) throw nowhere();
  return found;
}

/** A closed line of at most 60 points that strays as little as it can and does not cross itself. */
export function simplerRing(line: readonly XY[]): XY[] {
  const half = Math.floor(line.length / 2);
  for (let tolerance = FIRST_TOLERANCE_PX; tolerance < 64; tolerance *= 1.3) {
    const ring = [...simplify(line.slice(0, half + 1), tolerance).slice(0, -1), ...simplify([...line.slice(half), line[0]!], tolerance).slice(0, -1)];
    if (ring.length >= 3 && ring.length <= MOST_POINTS && !crossesItself(ring)) return ring.map(([x, y]): XY => [x, y]);
  }
  throw nowhere();
}

/** The suggested outline in the picture's pixels from its upper left corner. Throws Refusal `no_region`. */
export function suggestOutline(picture: Pixels, tap: XY, steps = 0): PhotoPoint[] {
  return simplerRing(lineRound(regionAt(picture, tap, steps))).map(([x, y]): PhotoPoint => [x, y]);
}
