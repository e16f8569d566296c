/** The frame of a drawing on the page: its size, what part of the wall it shows, and the moves that change that. */
import type { RefObject } from "preact";
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import { AT_REST, type Frame, type Hold, type Lens, type Pad, centred, enlarge, fitLens, settleLens, toWall } from "../../model/drawing/lens";
import type { Box } from "../../model/drawing/plan";
import type { WallPoint } from "../../model/types";
import { type Hands, listen } from "./gestures";

/** Room left round what is drawn, and how much of the window's height the frame may take on a phone. */
export type Room = { pad: Pad; share: number };
const PAD: Pad = { left: 46, right: 12, top: 34, bottom: 60 };
const LEAST_HEIGHT_PX = 220;
/** At a desk the drawing stays in view with its deeds and legend below it: they need the rest of the height. */
const DESK_SHARE = 0.45;

/** What one does with the wall under the hands, in wall metres. */
export type Grip = {
  draws: (from: WallPoint, reach_m: number) => boolean;
  onTap: (at: WallPoint, reach_m: number, target: EventTarget | null) => void;
  onFree: (path: readonly WallPoint[], end: "going" | "done" | "lost") => void;
  doubleTapZooms: boolean;
};

export type Lensed = {
  frameRef: RefObject<HTMLDivElement | null>; layerRef: RefObject<SVGSVGElement | null>;
  frame: Frame | null; lens: Lens; whole: boolean;
  zoom: (factor: number) => void; pan: (across: number, down: number) => void; showWhole: () => void; centreOn: (point: WallPoint) => void; showBox: (box: Box) => void;
};

/** The frame's width is the page's; its height follows the wall, within what leaves room for the rest of the screen. */
function useFrame(ref: RefObject<HTMLDivElement | null>, box: Box, { pad, share: onPhone }: Room): Frame | null {
  const [width_px, setWidth] = useState(0);
  useLayoutEffect(() => {
    const node = ref.current;
    if (!node) return;
    setWidth(node.clientWidth);
    const watch = new ResizeObserver(() => setWidth(node.clientWidth));
    watch.observe(node);
    return () => watch.disconnect();
  }, []);
  return useMemo(() => {
    if (width_px === 0) return null;
    const share = window.innerWidth >= 900 ? DESK_SHARE : onPhone;
    const most = Math.max(LEAST_HEIGHT_PX, window.innerHeight * share);
    const wanted = ((width_px - pad.left - pad.right) * (box.y1 - box.y0)) / (box.x1 - box.x0) + pad.top + pad.bottom;
    return { width_px, height_px: Math.round(Math.min(most, Math.max(LEAST_HEIGHT_PX, wanted))) };
  }, [width_px, box.x0, box.x1, box.y0, box.y1, onPhone]);
}

/** Of a wall's drawing: beside it stand heights, below it the scale. */
export const WALL_ROOM: Room = { pad: PAD, share: 0.48 };
/** The same, with room on a phone for the form that stands below. */
export const LOW_ROOM: Room = { pad: PAD, share: 0.3 };

const UNMEASURED: Frame = { width_px: 320, height_px: 240 };

function handsOf(grip: Grip, lens: Lens, fit: Lens, move: (hold: Hold, over: boolean) => void): Hands {
  const at = (place: { x: number; y: number }) => toWall(lens, place.x, place.y);
  return {
    draws: (from) => grip.draws(at(from), lens.m_per_px),
    onTap: (place, target) => grip.onTap(at(place), lens.m_per_px, target),
    onDoubleTap: (place) => {
      if (grip.doubleTapZooms) move(enlarge(2, place.x, place.y), true);
      else grip.onTap(at(place), lens.m_per_px, null);
    },
    onFree: (path, end) => grip.onFree(path.map(at), end),
    onHold: move,
    wheelTurns: (larger) => larger || lens.m_per_px < fit.m_per_px * 0.999,
  };
}

/** `room` is one and the same between drawings. */
export function useLens(box: Box, grip: Grip, room: Room): Lensed {
  const frameRef = useRef<HTMLDivElement>(null);
  const layerRef = useRef<SVGSVGElement>(null);
  const measured = useFrame(frameRef, box, room);
  const frame = measured ?? UNMEASURED;
  const fit = useMemo(() => fitLens(box, frame, room.pad), [box.x0, box.y0, box.x1, box.y1, frame]);
  const [chosen, setChosen] = useState<Lens | null>(null);
  const lens = chosen ?? fit;
  const take = (next: Lens) => setChosen(next.m_per_px >= fit.m_per_px * 0.999 ? null : next);
  // By its sides, not as a thing: a wall that comes anew from the server, the same size, must not jump back under the finger.
  useLayoutEffect(() => setChosen(null), [box.x0, box.y0, box.x1, box.y1]);
  const move = (hold: Hold, over: boolean) => {
    const layer = layerRef.current;
    // Moving the drawn layer is cheap, drawing it anew is not: 35 ms against 17 ms a frame with 2,000 marks.
    if (layer) layer.style.transform = over ? "" : `translate(${hold.x_px}px, ${hold.y_px}px) scale(${hold.scale})`;
    if (over) take(settleLens(lens, hold, fit, frame, box));
  };
  const hands = useRef<Hands | null>(null);
  hands.current = handsOf(grip, lens, fit, move);
  useEffect(() => (frameRef.current ? listen(frameRef.current, () => hands.current as Hands) : undefined), []);
  const settle = (hold: Hold) => take(settleLens(lens, hold, fit, frame, box));
  return {
    frameRef, layerRef, frame: measured, lens, whole: chosen === null,
    zoom: (factor) => settle(enlarge(factor, frame.width_px / 2, frame.height_px / 2)),
    pan: (across, down) => settle({ x_px: (-across * frame.width_px) / 2, y_px: (-down * frame.height_px) / 2, scale: 1 }),
    showWhole: () => setChosen(null),
    centreOn: (point) => take(settleLens(centred(lens, frame, point), AT_REST, fit, frame, box)),
    showBox: (part) => take(settleLens(fitLens(part, frame, { left: 60, right: 60, top: 60, bottom: 60 }), AT_REST, fit, frame, box)),
  };
}
