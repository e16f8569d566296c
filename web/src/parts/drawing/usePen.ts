/** Setting points on the wall: by a tap, by dragging a free line, by moving a corner, or by a cross that the arrow keys move. */
import { useRef, useState } from "preact/hooks";
import { tidyFree, toMm } from "../../model/drawing/plan";
import { middleX, ontoWall, extentOf } from "../../model/drawing/projection";
import type { Surface, View, WallPoint } from "../../model/types";
import { t } from "../../words";
import { useTakeOut } from "../undo/undo";
import type { Grip } from "./useLens";
import type { DrawingMode } from "./WallDrawing";

const MOST_POINTS = 500;
const STEP_M = 0.1;
const FINE_M = 0.01;
const TAP_REACH_PX = 13;
const DRAG_REACH_PX = 24;
const ARROWS: Record<string, readonly [number, number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

type Given = { surface: Surface; view: View; mode: DrawingMode; draft: readonly WallPoint[]; onDraft: (points: readonly WallPoint[]) => void };
export type Pen = {
  /** The draft with the corner that is just being dragged where the finger is. */
  points: readonly WallPoint[];
  free: readonly WallPoint[];
  corner: number | null;
  cross: WallPoint | null;
  /** The place last set or moved to, to be said in words. */
  last: WallPoint | null;
  chooseCorner: (index: number | null) => void;
  removeCorner: (index: number) => void;
  onKey: (event: KeyboardEvent) => void;
  onCornerKey: (index: number) => (event: KeyboardEvent) => void;
  grip: Grip;
};

/** Which way an arrow key points, and how far: 10 cm, with shift 1 cm; null for other keys. */
function arrow(event: KeyboardEvent): readonly [number, number] | null {
  const way = ARROWS[event.key];
  const step = event.shiftKey ? FINE_M : STEP_M;
  return way ? [way[0] * step, way[1] * step] : null;
}

function nearestCorner(points: readonly WallPoint[], at: WallPoint, reach_m: number): number {
  let [best, found] = [reach_m, -1];
  points.forEach(([x, y], i) => {
    const off = Math.hypot(x - at[0], y - at[1]);
    if (off <= best) [best, found] = [off, i];
  });
  return found;
}

/** How points get into the draft. */
function usePoints({ surface, view, mode, draft, onDraft }: Given) {
  const [corner, chooseCorner] = useState<number | null>(null);
  const [last, setLast] = useState<WallPoint | null>(null);
  const onWall = (at: WallPoint) => toMm(ontoWall(surface, view, at));
  const set = (points: readonly WallPoint[], said: WallPoint | null) => {
    setLast(said);
    onDraft(points.slice(0, MOST_POINTS));
  };
  const replace = (index: number, at: WallPoint) => set(draft.map((point, i) => (i === index ? onWall(at) : point)), onWall(at));
  const put = (at: WallPoint) => {
    if (mode === "pin") return set([onWall(at)], onWall(at));
    if (corner === null || corner >= draft.length) return set([...draft, onWall(at)], onWall(at));
    replace(corner, at);
    chooseCorner(null);
  };
  const takeOut = useTakeOut(draft, onDraft);
  const removeCorner = (index: number) => {
    chooseCorner(null);
    setLast(null);
    takeOut(index, t("drawing_corner_n", { n: index + 1 }));
  };
  return { corner: corner !== null && corner < draft.length ? corner : null, chooseCorner, last, setLast, onWall, set, replace, put, removeCorner };
}

type Points = ReturnType<typeof usePoints>;

/** A finger that drags: a corner it started on, else a free line. */
function useFinger(given: Given, points: Points) {
  const [free, setFree] = useState<readonly WallPoint[]>([]);
  const [moving, setMoving] = useState<{ index: number; at: WallPoint } | null>(null);
  const grabbed = useRef(-1);
  const { mode, draft } = given;
  const onFree: Grip["onFree"] = (path, end) => {
    const at = path.at(-1);
    if (grabbed.current >= 0) {
      setMoving(end === "going" && at ? { index: grabbed.current, at: points.onWall(at) } : null);
      if (end === "done" && at) points.replace(grabbed.current, at);
      return;
    }
    const onWall = path.map(points.onWall);
    setFree(end === "going" ? onWall : []);
    if (end === "done" && onWall.length > 1) points.set([...draft, ...tidyFree(onWall, mode === "outline" && draft.length === 0)], onWall.at(-1) ?? null);
  };
  const draws: Grip["draws"] = (from, m_per_px) => {
    grabbed.current = nearestCorner(draft, from, DRAG_REACH_PX * m_per_px);
    return mode === "pin" ? grabbed.current >= 0 : mode !== "look";
  };
  const shown = moving ? draft.map((point, i) => (i === moving.index ? moving.at : point)) : draft;
  return { free, shown, onFree, draws };
}

function useCross(given: Given, points: Points) {
  const [cross, setCross] = useState<WallPoint | null>(null);
  const onKey = (event: KeyboardEvent) => {
    const way = arrow(event);
    const box = extentOf(given.surface, given.view);
    const now = cross ?? [middleX(given.surface, given.view), (box.y0 + box.y1) / 2];
    if (way) {
      const next = points.onWall([now[0] + way[0], now[1] + way[1]]);
      setCross(next);
      points.setLast(next);
    } else if (event.key === "Enter" || event.key === " ") {
      setCross(now);
      points.put(now);
    } else if (event.key === "Escape") points.chooseCorner(null);
    else return;
    event.preventDefault();
  };
  return { cross, onKey };
}

export function usePen(given: Given): Pen {
  const points = usePoints(given);
  const finger = useFinger(given, points);
  const { cross, onKey } = useCross(given, points);
  const { draft, mode } = given;
  const onCornerKey = (index: number) => (event: KeyboardEvent) => {
    const [way, at] = [arrow(event), draft[index]];
    if (way && at) points.replace(index, [at[0] + way[0], at[1] + way[1]]);
    else if (event.key === "Delete" || event.key === "Backspace") points.removeCorner(index);
    else if (event.key === "Enter" || event.key === " ") points.chooseCorner(points.corner === index ? null : index);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  const onTap: Grip["onTap"] = (at, m_per_px) => {
    const near = mode === "pin" || points.corner !== null ? -1 : nearestCorner(draft, at, TAP_REACH_PX * m_per_px);
    if (near >= 0) points.chooseCorner(near);
    else points.put(at);
  };
  return {
    points: finger.shown, free: finger.free, corner: points.corner, cross, last: points.last,
    chooseCorner: points.chooseCorner, removeCorner: points.removeCorner, onKey, onCornerKey,
    grip: { draws: finger.draws, onTap, onFree: finger.onFree, doubleTapZooms: false },
  };
}
