/** The wall itself: silhouette, shading, openings, heights, finishes. SVG units are metres, y turned over. */
import { useId } from "preact/hooks";
import type { Lens } from "../../model/drawing/lens";
import { type Box, boxOf, stepFrom } from "../../model/drawing/plan";
import { carried, extentOf, openingRing, ringsAbove, shadesOf } from "../../model/drawing/projection";
import { silhouettePath } from "../../model/surface";
import type { Elevation, Finish, Opening, Surface, View, WallPoint } from "../../model/types";
import { M_PER_FT, isUs, withUnit } from "../../words/measures";
import { Hatches } from "./hatch";
import { Tokens } from "./Marks";
import { placeMarks } from "./placed";
import type { DrawnMark } from "./WallDrawing";

const num = (value: number) => Number(value.toFixed(4));
/** An SVG path through wall points. */
export function pathOf(points: readonly WallPoint[], closed: boolean): string {
  return points.map(([x, y], i) => `${i ? "L" : "M"}${num(x)} ${num(-y)}`).join("") + (closed ? "z" : "");
}

/** Heights and lengths go in whole measures of this device. */
export const stepUnit = () => (isUs() ? { unit: "ft", metres: M_PER_FT, steps: [0.5, 1, 2, 5, 10, 20, 50, 100] } : { unit: "m", metres: 1, steps: [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50] });

function heightStep(m_per_px: number): number {
  const { metres, steps } = stepUnit();
  const step = stepFrom(steps.map((one) => one * metres), 62 * m_per_px);
  return step > metres && !isUs() && metres >= 24 * m_per_px ? metres : step;
}

/** Level lines with their heights at the left edge, so that "1.9 m up" can be read off. */
export function HeightLines({ height, lens, shown }: { height: number; lens: Lens; shown: Box }) {
  const { unit, metres } = stepUnit();
  const step = heightStep(lens.m_per_px);
  const levels = Array.from({ length: Math.floor(height / step + 1e-6) }, (_, i) => (i + 1) * step).filter((y) => y > shown.y0 && y < shown.y1);
  return (
    <g class="wall-heights" aria-hidden="true">
      {levels.map((y) => (
        <g key={y}>
          <path d={`M${shown.x0 - 9} ${-y}H${shown.x1 + 9}`} />
          <text transform={`translate(${lens.left_m + 6 * lens.m_per_px} ${-y - 5 * lens.m_per_px}) scale(${lens.m_per_px})`}>{withUnit(y / metres, unit)}</text>
        </g>
      ))}
    </g>
  );
}

function OpeningShape({ opening, surface, view, fill }: { opening: Opening; surface: Surface; view: View; fill: string }) {
  const ring = carried(surface, "seen", view, openingRing(opening), 3);
  if (!ring) return null;
  const below = opening.y_m - Math.max(0.04, opening.height_m);
  const shade = opening.kind !== "ledge" ? null
    : carried(surface, "seen", view, [[opening.x_m, opening.y_m], [opening.x_m + opening.width_m, opening.y_m], [opening.x_m + opening.width_m, below], [opening.x_m, below]], 3);
  return (
    <g class={`opening opening-${opening.kind}`}>
      {shade ? <path class="ledge-shade" d={pathOf(shade, true)} /> : null}
      <path d={pathOf(ring, true)} style={opening.kind === "niche" ? { fill } : undefined} />
      {opening.kind === "window" ? <path class="glazing" d={glazing(opening, surface, view)} /> : null}
      {opening.kind === "door" ? <path class="glazing" d={latch(opening, surface, view)} /> : null}
    </g>
  );
}

function bar(surface: Surface, view: View, from: WallPoint, to: WallPoint): string {
  const points = carried(surface, "seen", view, [from, to], 2);
  return points ? pathOf(points, false) : "";
}

function glazing({ x_m, y_m, width_m, height_m }: Opening, surface: Surface, view: View): string {
  const [cx, cy] = [x_m + width_m / 2, y_m + height_m / 2];
  return bar(surface, view, [cx, y_m], [cx, y_m + height_m]) + bar(surface, view, [x_m, cy], [x_m + width_m, cy]);
}

function latch({ x_m, y_m, width_m, height_m }: Opening, surface: Surface, view: View): string {
  const up = y_m + height_m * 0.45;
  return bar(surface, view, [x_m + width_m * 0.78, up], [x_m + width_m * 0.88, up]);
}

/** Quarter turns on an unrolled wall, rings of equal height on one seen from above. */
function Guides({ surface, view, m_per_px }: { surface: Surface; view: View; m_per_px: number }) {
  const extent = extentOf(surface, view);
  if (view === "unrolled" && surface.kind !== "flat") {
    const quarter = (extent.x1 - extent.x0) / 4;
    return <path class="guide" d={[1, 2, 3].map((i) => `M${num(i * quarter)} 0V${num(-extent.y1)}`).join("")} />;
  }
  if (view !== "above") return null;
  return <>{ringsAbove(surface, heightStep(m_per_px)).map((ring) => <circle key={ring.height_m} class="guide" r={ring.radius_m} />)}</>;
}

type GroundProps = { elevation: Elevation; view: View; m_per_px: number; seeThrough?: boolean };

export function WallGround({ elevation, view, m_per_px, seeThrough }: GroundProps) {
  const niche = `niche${useId()}`;
  const { surface } = elevation;
  const extent = extentOf(surface, view);
  const wide = 40 * (extent.x1 - extent.x0);
  return (
    <g class={seeThrough ? "wall-ground see-through" : "wall-ground"} aria-hidden="true">
      <pattern id={niche} width="5" height="5" patternUnits="userSpaceOnUse" patternTransform={`scale(${m_per_px}) rotate(-45)`}>
        <rect width="5" height="5" class="niche-ground" /><path d="M0 2.5H5" class="niche-line" />
      </pattern>
      {view === "above" ? null : <path class="ground-line" d={`M${extent.x0 - wide} 0H${extent.x1 + wide}`} />}
      <path class="wall-face" d={pathOf(silhouettePath(surface, view, 64), true)} />
      {shadesOf(surface, view).map((shade, i) => <path key={i} class="wall-shade" d={pathOf(shade, true)} />)}
      <Guides surface={surface} view={view} m_per_px={m_per_px} />
      {(elevation.openings ?? []).map((opening, i) => <OpeningShape key={i} opening={opening} surface={surface} view={view} fill={`url(#${niche})`} />)}
      <path class="wall-edge" d={pathOf(silhouettePath(surface, view, 64), true)} />
    </g>
  );
}

/** What a region is called on the drawing: its name before a colon, or the one letter in that, whichever fits over `width_px`. */
function shortName(name: string, width_px: number): string {
  const head = name.split(":")[0]?.trim() ?? "";
  const letter = /(?:^|\s)([\p{L}\p{N}])$/u.exec(head)?.[1] ?? "";
  return [head, letter].find((one) => one.length * LETTER_PX <= width_px) ?? "";
}

const LETTER_PX = 7.5;

type RegionsProps = { finishes: readonly Finish[]; surface: Surface; view: View; m_per_px: number };

/** Regions of finishes as faint outlines with their names; sample panels dotted. */
export function FinishRegions({ finishes, surface, view, m_per_px }: RegionsProps) {
  return (
    <g aria-hidden="true">
      {finishes.map((finish) => {
        const points = finish.region && carried(surface, finish.region.view, view, finish.region.points_m, 3);
        if (!points) return null;
        const box = boxOf(points);
        // Under the region, where the number of a mark on it does not stand; inside where the ground is too near.
        const name_y = box.y0 > 20 * m_per_px ? box.y0 - 14 * m_per_px : box.y0 + 6 * m_per_px;
        return (
          <g key={finish.id}>
            <path class={finish.sample_panel ? "finish-region panel" : "finish-region"} d={pathOf(points, true)} />
            <text class="region-name" text-anchor="middle" transform={`translate(${num((box.x0 + box.x1) / 2)} ${num(-name_y)}) scale(${m_per_px})`}>{shortName(finish.name, (box.x1 - box.x0) / m_per_px)}</text>
          </g>
        );
      })}
    </g>
  );
}

type SmallProps = { elevation: Elevation; marks?: readonly DrawnMark[]; px_per_m?: number; label: string; view?: View; pins?: number };

/** A wall as a small picture, to the given scale, so that walls side by side compare truly; `pins`: how large against the large drawing. */
export function SmallWall({ elevation, marks = [], px_per_m, label, view = "seen", pins }: SmallProps) {
  const prefix = `small${useId()}`;
  const box = extentOf(elevation.surface, view);
  const scale = px_per_m ?? Math.min(110 / (box.x1 - box.x0), 84 / (box.y1 - box.y0));
  const edge = 5 / scale;
  const [width, height] = [box.x1 - box.x0 + 2 * edge, box.y1 - box.y0 + 2 * edge];
  return (
    <svg
      class="small-wall" role="img" aria-label={label} width={Math.round(width * scale)} height={Math.round(height * scale)}
      viewBox={`${num(box.x0 - edge)} ${num(-box.y1 - edge)} ${num(width)} ${num(height)}`}
    >
      <defs><Hatches prefix={prefix} scale={0.8 / scale} /></defs>
      <WallGround elevation={elevation} view={view} m_per_px={1 / scale} />
      <Tokens placed={placeMarks(marks, elevation.surface, view)} prefix={prefix} m_per_px={1 / scale} size={pins} />
    </svg>
  );
}
