/** What part of the drawing shows, and how large: metres at the left and top edge of the frame and metres to a CSS pixel. */
import type { WallPoint } from "../types";
import type { Box } from "./plan";

export type Lens = { left_m: number; top_m: number; m_per_px: number };
export type Frame = { width_px: number; height_px: number };
export type Pad = { left: number; right: number; top: number; bottom: number };
/** A move of the drawn layer on the screen that the lens has not taken over yet: p -> x_px + scale p. */
export type Hold = { x_px: number; y_px: number; scale: number };
export const AT_REST: Hold = { x_px: 0, y_px: 0, scale: 1 };

const FINEST_M_PER_PX = 0.0004;

/** The whole box, centred, with room left for what stands at the edges. */
export function fitLens(box: Box, frame: Frame, pad: Pad): Lens {
  const [inner_w, inner_h] = [Math.max(1, frame.width_px - pad.left - pad.right), Math.max(1, frame.height_px - pad.top - pad.bottom)];
  const m_per_px = Math.max((box.x1 - box.x0) / inner_w, (box.y1 - box.y0) / inner_h, 1e-6);
  return {
    m_per_px,
    left_m: (box.x0 + box.x1) / 2 - (pad.left + inner_w / 2) * m_per_px,
    top_m: (box.y0 + box.y1) / 2 + (pad.top + inner_h / 2) * m_per_px,
  };
}

export function shownBox(lens: Lens, frame: Frame): Box {
  const { left_m, top_m, m_per_px } = lens;
  return { x0: left_m, x1: left_m + frame.width_px * m_per_px, y0: top_m - frame.height_px * m_per_px, y1: top_m };
}

export const toWall = (lens: Lens, x_px: number, y_px: number): WallPoint => [lens.left_m + x_px * lens.m_per_px, lens.top_m - y_px * lens.m_per_px];

/** The same lens with a point of the wall in the middle of the frame. */
export function centred(lens: Lens, frame: Frame, point: WallPoint): Lens {
  const half = lens.m_per_px / 2;
  return { ...lens, left_m: point[0] - frame.width_px * half, top_m: point[1] + frame.height_px * half };
}

/** The move that enlarges by `factor` and leaves the place under (x, y) where it is. */
export const enlarge = (factor: number, x_px: number, y_px: number): Hold => ({ x_px: x_px * (1 - factor), y_px: y_px * (1 - factor), scale: factor });

/** First `a`, then `b` on top of it. */
export const followedBy = (a: Hold, b: Hold): Hold => ({
  x_px: b.x_px + b.scale * a.x_px, y_px: b.y_px + b.scale * a.y_px, scale: a.scale * b.scale,
});

/** The lens after a move: never wider than the whole wall, never past its middle's reach, never finer than half a millimetre. */
export function settleLens(lens: Lens, hold: Hold, fit: Lens, frame: Frame, box: Box): Lens {
  const m_per_px = Math.max(lens.m_per_px / hold.scale, FINEST_M_PER_PX);
  if (m_per_px >= fit.m_per_px * 0.999) return fit;
  const moved = {
    m_per_px, left_m: lens.left_m - (hold.x_px * lens.m_per_px) / hold.scale, top_m: lens.top_m + (hold.y_px * lens.m_per_px) / hold.scale,
  };
  const [half_w, half_h] = [(frame.width_px * m_per_px) / 2, (frame.height_px * m_per_px) / 2];
  const into = (value: number, low: number, high: number) => Math.min(Math.max(value, low), high);
  return {
    m_per_px, left_m: into(moved.left_m + half_w, box.x0, box.x1) - half_w, top_m: into(moved.top_m - half_h, box.y0, box.y1) + half_h,
  };
}
