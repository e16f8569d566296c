/** A photo to set points on, with the same hands as the wall's drawing: taps, drags, pinches, arrow keys; a loupe shows what the finger hides. */
import type { ComponentChildren } from "preact";
import { useId, useMemo, useRef, useState } from "preact/hooks";
import { shownBox } from "../../model/drawing/lens";
import type { FlatSurface, PhotoPoint, WallPoint } from "../../model/types";
import type { PhotoSize } from "../../model/measuring/placing";
import { PenLayer, PenStatus } from "../../parts/drawing/Pen";
import { ZoomButtons } from "../../parts/drawing/WallDrawing";
import { pathOf } from "../../parts/drawing/WallGround";
import { type Lensed, type Room, useLens } from "../../parts/drawing/useLens";
import { type Pen, usePen } from "../../parts/drawing/usePen";
import "../../parts/drawing/wall.css";
import { Button } from "../../parts/frame/Button";
import { t } from "../../words";
import { showPercent } from "../../words/measures";
import "./measuring.css";

/** The pen knows metres: so many frame pixels are one, which makes an arrow key move by 10 pixels, with shift by one. */
const PX_PER_UNIT = 100;
const ROOM: Room = { pad: { left: 6, right: 6, top: 6, bottom: 62 }, share: 0.6 };
const REACH_PX = 24;
/** Half of what shows round a corner that is looked at closely, as a share of the photo's width. */
const CLOSE_SHARE = 0.04;
const LOUPE = { half_px: 64, times: 3 };

type Props = {
  url: string; size: PhotoSize; label: string; ask: string; mode: "pin" | "outline"; points: readonly PhotoPoint[];
  /** The points, and how many frame pixels a pixel of the screen was. */
  onPoints: (points: PhotoPoint[], seen_px: number) => void;
  /** A point looked at closely and left where it was. */
  onChecked?: (index: number, seen_px: number) => void;
  /** So many points and no more, each set by itself; without it the outline may be drawn in one go. */
  most?: number;
  /** A line already found, which is only shown. */
  line?: readonly PhotoPoint[];
};

export const whereOnPhoto = (size: PhotoSize, [x, y]: PhotoPoint): string =>
  t("measuring_where", { across: showPercent(x / size.width_px), down: showPercent(y / size.height_px) });

type Sheet = { surface: FlatSurface; toPen: (point: PhotoPoint) => WallPoint; toPhoto: (point: WallPoint) => PhotoPoint };

/** The photo as a flat wall whose foot is its lower edge. */
function sheetOf({ width_px, height_px }: PhotoSize): Sheet {
  return {
    surface: { kind: "flat", width_m: width_px / PX_PER_UNIT, height_m: height_px / PX_PER_UNIT, batter_deg: 0 },
    toPen: ([x, y]) => [x / PX_PER_UNIT, (height_px - y) / PX_PER_UNIT],
    toPhoto: ([x, y]) => [x * PX_PER_UNIT, height_px - y * PX_PER_UNIT],
  };
}

/** The place the person is just moving: a dragged corner, the end of a free line, the keyboard's cross. A corner to be set by a tap hides nothing. */
function heldPoint(pen: Pen, draft: readonly WallPoint[]): WallPoint | null {
  const dragged = pen.points.find((point, i) => point !== draft[i]);
  return dragged ?? pen.free.at(-1) ?? (pen.corner === null && pen.cross ? (pen.last ?? pen.cross) : null);
}

function Loupe({ at, url, surface, lensed }: { at: WallPoint; url: string; surface: FlatSurface; lensed: Lensed }) {
  const { lens, frame } = lensed;
  if (!frame) return null;
  const { half_px, times } = LOUPE;
  const half = (half_px * lens.m_per_px) / times;
  const { x0, x1 } = shownBox(lens, frame);
  const cross = half / 4;
  return (
    <svg class={at[0] < (x0 + x1) / 2 ? "loupe right" : "loupe"} viewBox={`${at[0] - half} ${-at[1] - half} ${2 * half} ${2 * half}`} aria-hidden="true">
      <image href={url} x={0} y={-surface.height_m} width={surface.width_m} height={surface.height_m} preserveAspectRatio="none" />
      {["loupe-cross", "loupe-cross inner"].map((look) => (
        <path key={look} class={look} d={`M${at[0] - half} ${-at[1]}h${half - cross}m${2 * cross} 0h${half - cross}M${at[0]} ${-at[1] - half}v${half - cross}m0 ${2 * cross}v${half - cross}`} />
      ))}
    </svg>
  );
}

function useSheet({ size, points, onPoints, mode, most }: Props) {
  const sheet = useMemo(() => sheetOf(size), [size.width_px, size.height_px]);
  const draft = useMemo(() => points.map(sheet.toPen), [points, sheet]);
  const seen = useRef(1);
  const onDraft = (next: readonly WallPoint[]) => onPoints(next.slice(0, most).map((point, i) => (point === draft[i] ? (points[i] as PhotoPoint) : sheet.toPhoto(point))), seen.current);
  const pen = usePen({ surface: sheet.surface, view: "seen", mode, draft, onDraft });
  const { width_m, height_m } = sheet.surface;
  const box = useMemo(() => ({ x0: 0, y0: 0, x1: width_m, y1: height_m }), [width_m, height_m]);
  const near = (from: WallPoint, reach: number) => draft.some(([x, y]) => Math.hypot(x - from[0], y - from[1]) <= reach);
  const draws: typeof pen.grip.draws = (from, m_per_px) => (most === undefined || near(from, REACH_PX * m_per_px)) && pen.grip.draws(from, m_per_px);
  const lensed = useLens(box, { ...pen.grip, draws }, ROOM);
  seen.current = lensed.lens.m_per_px * PX_PER_UNIT;
  return { sheet, draft, pen, lensed };
}

function Layer({ children, lensed, pen, label }: { children: ComponentChildren; lensed: Lensed; pen: Pen; label: string }) {
  const { lens, frame, layerRef } = lensed;
  const help = useId();
  const { width_px, height_px } = frame ?? { width_px: 320, height_px: 240 };
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === "+" || event.key === "=") lensed.zoom(2);
    else if (event.key === "-") lensed.zoom(0.5);
    else if (event.key === "0") lensed.showWhole();
    else pen.onKey(event);
  };
  return (
    <>
      <p class="unseen" id={help}>{t("measuring_keys")}</p>
      <svg
        ref={layerRef} class="wall-layer" width={width_px} height={height_px} viewBox={`${lens.left_m} ${-lens.top_m} ${width_px * lens.m_per_px} ${height_px * lens.m_per_px}`}
        role="application" aria-label={label} aria-describedby={help} tabindex={0} onKeyDown={onKeyDown}
      >
        {frame ? children : null}
      </svg>
    </>
  );
}

/** One corner after the other, closely: the next tap sets it anew. */
function CloseLook({ pen, draft, lensed, half, onChecked }: { pen: Pen; draft: readonly WallPoint[]; lensed: Lensed; half: number; onChecked: Props["onChecked"] }) {
  const [at, setAt] = useState<number | null>(null);
  const next = at === null ? 0 : at + 1;
  const look = () => {
    if (at !== null) onChecked?.(at, lensed.lens.m_per_px * PX_PER_UNIT);
    const point = draft[next];
    setAt(point ? next : null);
    pen.chooseCorner(point ? next : null);
    if (point) lensed.showBox({ x0: point[0] - half, x1: point[0] + half, y0: point[1] - half, y1: point[1] + half });
    else lensed.showWhole();
  };
  return <div class="deeds"><Button onPress={look}>{at === null ? t("measuring_close") : next < draft.length ? t("measuring_close_next", { n: next + 1 }) : t("measuring_close_done")}</Button></div>;
}

export function PhotoPen(props: Props) {
  const { url, size, mode, label, ask, line = [], most, onChecked } = props;
  const { sheet, draft, pen, lensed } = useSheet(props);
  const { surface } = sheet;
  const where = (point: WallPoint) => whereOnPhoto(size, sheet.toPhoto(point));
  const held = heldPoint(pen, draft);
  const found = line.map(sheet.toPen);
  return (
    <div class="wall-drawing photo-pen">
      <div class="wall-frame drawing" ref={lensed.frameRef} style={{ height: `${lensed.frame?.height_px ?? 240}px`, touchAction: "none" }}>
        <Layer lensed={lensed} pen={pen} label={label}>
          <image href={url} x={0} y={-surface.height_m} width={surface.width_m} height={surface.height_m} preserveAspectRatio="none" />
          {found.length > 2 ? <><path class="mark-halo" d={pathOf(found, true)} /><path class="pen-line closed" d={pathOf(found, true)} /></> : null}
          {mode === "pin" && draft[0] ? <circle class="photo-tap" r={7} transform={`translate(${draft[0][0]} ${-draft[0][1]}) scale(${lensed.lens.m_per_px})`} /> : null}
          <PenLayer pen={pen} mode={mode} surface={surface} view="seen" m_per_px={lensed.lens.m_per_px} where={where} />
        </Layer>
        {held ? <Loupe at={held} url={url} surface={surface} lensed={lensed} /> : null}
        <ZoomButtons lensed={lensed} />
      </div>
      <PenStatus pen={pen} mode={mode} surface={surface} view="seen" where={where} ask={ask} />
      {most !== undefined && draft.length === most ? <CloseLook pen={pen} draft={draft} lensed={lensed} half={surface.width_m * CLOSE_SHARE} onChecked={onChecked} /> : null}
    </div>
  );
}
