/** What is being drawn: corners, the line so far, the keyboard's cross, and where that is in words. */
import { angleOf, shapeOf } from "../../model/surface";
import { middleX } from "../../model/drawing/projection";
import type { Surface, View, WallPoint } from "../../model/types";
import { t } from "../../words";
import { showMetres } from "../../words/measures";
import { Button } from "../frame/Button";
import type { Pen } from "./usePen";
import type { DrawingMode } from "./WallDrawing";
import { pathOf } from "./WallGround";

/** A place on the wall in words: "1.9 m up, 0.4 m left of the middle". */
export function whereWords(surface: Surface, view: View, point: WallPoint): string {
  const { round } = shapeOf(surface);
  const up = showMetres(round && view === "above" ? angleOf(round, view, point)[1] : point[1]);
  const aside = point[0] - middleX(surface, view);
  if (Math.abs(aside) < 0.005) return t("drawing_where_middle", { up });
  return t(aside < 0 ? "drawing_where_left" : "drawing_where_right", { up, aside: showMetres(Math.abs(aside)) });
}

const place = ([x, y]: WallPoint, m_per_px: number) => `translate(${x.toFixed(4)} ${(-y).toFixed(4)}) scale(${m_per_px})`;

/** `where` says a place in other words than those of a wall, on a photo say. */
type LayerProps = { pen: Pen; mode: DrawingMode; surface: Surface; view: View; m_per_px: number; where?: (point: WallPoint) => string };

function Corner({ pen, index, point, surface, view, m_per_px, where = (at) => whereWords(surface, view, at) }: LayerProps & { index: number; point: WallPoint }) {
  return (
    <g
      role="button" tabindex={0} class={pen.corner === index ? "corner chosen" : "corner"} transform={place(point, m_per_px)}
      aria-label={t("drawing_corner", { n: index + 1, where: where(point) })} aria-pressed={pen.corner === index}
      onKeyDown={pen.onCornerKey(index)}
    >
      <circle class="mark-reach" r={22} />
      <circle class="corner-dot" r={7} />
    </g>
  );
}

export function PenLayer(props: LayerProps) {
  const { pen, mode, m_per_px } = props;
  const { points } = pen;
  const closed = mode === "outline" && points.length > 2;
  return (
    <g class="pen">
      {points.length > 1 ? <><path class="mark-halo" d={pathOf(points, closed)} /><path class={closed ? "pen-line closed" : "pen-line"} d={pathOf(points, closed)} /></> : null}
      {pen.free.length > 1 ? <path class="pen-free" d={pathOf(pen.free, false)} /> : null}
      {mode === "pin" && points[0] ? <path class="pen-pin" d="M0 0C-4-12-14-16-14-27A14 14 0 1 1 14-27C14-16 4-12 0 0z" transform={place(points[0], m_per_px)} /> : null}
      {mode === "pin" ? null : points.map((point, i) => <Corner key={i} {...props} index={i} point={point} />)}
      {pen.cross ? <path class="pen-cross" d="M-16 0H-4M4 0H16M0-16V-4M0 4V16" transform={place(pen.cross, m_per_px)} aria-hidden="true" /> : null}
    </g>
  );
}

/** The sentence below the drawing, and what can be done to a chosen corner. */
export function PenStatus({ pen, mode, surface, view, where, ask }: Omit<LayerProps, "m_per_px"> & { ask?: string }) {
  const { corner } = pen;
  const todo = mode === "pin" && pen.points.length > 0 ? t("drawing_pin_set") : t(`drawing_do_${mode as "pin" | "line" | "outline"}`);
  const said = corner !== null ? t("drawing_corner_move", { n: corner + 1 }) : (ask ?? todo);
  const last = pen.last ? `${(where ?? ((at) => whereWords(surface, view, at)))(pen.last)}. ` : "";
  return (
    <div class="pen-status">
      <p role="status">{where ? <span class="unseen">{last}</span> : last}{said}</p>
      {corner !== null ? (
        <div class="deeds">
          <Button kind="warning" onPress={() => pen.removeCorner(corner)}>{t("drawing_corner_remove", { n: corner + 1 })}</Button>
          <Button onPress={() => pen.chooseCorner(null)}>{t("drawing_corner_leave")}</Button>
        </div>
      ) : null}
    </div>
  );
}
