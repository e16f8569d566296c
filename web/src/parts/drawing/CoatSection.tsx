/** Coats and wall cut through, outside on the left, with the depth of a defect set on the drawing. */
import { useRef } from "preact/hooks";
import { type Band, bandsOf, depthOfX, layerAt, xOfDepth } from "../../model/drawing/section";
import { t } from "../../words";
import { showMm } from "../../words/measures";
import "./wall.css";

export type CoatSectionProps = {
  coats: readonly { label: string; thickness_mm: number }[]; wallLabel: string; depth_mm: number | null; onDepth?: (mm: number) => void;
};

const WIDTH = 320;
const [TOP, BOTTOM, BELOW] = [8, 72, 84];
const FILLS = ["#fbf8f0", "#e9dfcc", "#e0d2b8", "#d8c7a8"];
const STEPS: Record<string, number> = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 };

/** How far a depth goes, in words: "into the cob, 32 mm". */
export function depthWords(bands: readonly Band[], depth_mm: number | null): string {
  const layer = depth_mm === null ? null : layerAt(bands, depth_mm);
  if (!layer || depth_mm === null) return depth_mm === null ? t("not_recorded") : t("coat_none");
  return t(layer.bare ? "coat_through" : "coat_into", { layer: layer.label, depth: showMm(depth_mm) });
}

/** Without the explanation in brackets that some languages need: it would run over the edge. */
export const shortLabel = (label: string) => label.replace(/ \(.*\)$/, "");

function Layers({ bands }: { bands: readonly Band[] }) {
  return (
    <g aria-hidden="true">
      {bands.map((band, i) => {
        const wall = i === bands.length - 1;
        return (
          <g key={i}>
            <rect class="coat-layer" x={band.x0} y={TOP} width={band.x1 - band.x0} height={BOTTOM - TOP} fill={wall ? "var(--wall-deep)" : `var(--ground, ${FILLS[i % FILLS.length]})`} />
            {wall ? <path d={straw(band.x0, band.x1)} fill="none" stroke="var(--drawn, #8d744c)" stroke-width="1.4" /> : null}
            <text class="coat-name" x={(band.x0 + band.x1) / 2} y={BELOW + 12} text-anchor="middle">{wall ? shortLabel(band.label) : bands.length - 1 - i}</text>
          </g>
        );
      })}
    </g>
  );
}

/** A few short strokes, so that the wall reads as earth and not as one more coat. */
export function straw(x0: number, x1: number): string {
  return Array.from({ length: Math.floor((x1 - x0) / 14) }, (_, i) => `M${x0 + 6 + i * 14} ${TOP + 10 + ((i * 23) % 44)}l6 ${i % 2 ? 3 : -3}`).join("");
}

function Depth({ x, knob }: { x: number; knob: boolean }) {
  return (
    <g aria-hidden="true">
      <rect class="coat-gone" x={0} y={TOP + 6} width={x} height={BOTTOM - TOP - 12} rx={4} />
      <path class="coat-depth" d={`M0 ${(TOP + BOTTOM) / 2}H${x}`} />
      <circle class="coat-knob" cx={x} cy={(TOP + BOTTOM) / 2} r={knob ? 14 : 8} />
    </g>
  );
}

/** The numbers of the drawing, in words: coats are counted from the wall outwards, as they are laid. */
function Names({ coats }: Pick<CoatSectionProps, "coats">) {
  return (
    <>
      <p class="hint">{t(coats.length ? "coat_not_to_scale" : "coat_not_to_scale_bare")}</p>
      {coats.length ? <ol class="sub">{coats.map((coat, i) => <li key={i}>{t("coat_list", { name: coat.label, thickness: showMm(coat.thickness_mm) })}</li>)}</ol> : null}
    </>
  );
}

export function CoatSection({ coats, wallLabel, depth_mm, onDepth }: CoatSectionProps) {
  const drawn = useRef<SVGSVGElement>(null);
  // While a finger drags, the scale stays: it would slip away under it.
  const held = useRef<readonly Band[] | null>(null);
  const bands = held.current ?? bandsOf(coats, wallLabel, depth_mm ?? 0, WIDTH);
  const words = depthWords(bands, depth_mm);
  const set = (event: PointerEvent) => {
    const edge = drawn.current?.getBoundingClientRect();
    if (edge && held.current) onDepth?.(depthOfX(held.current, ((event.clientX - edge.left) / edge.width) * WIDTH));
  };
  const slider = onDepth && {
    role: "slider" as const, tabindex: 0, "aria-label": t("coat_depth"), "aria-valuemin": 0, "aria-valuemax": Math.round(bands.at(-1)?.to_mm ?? 0),
    "aria-valuenow": Math.round(depth_mm ?? 0), "aria-valuetext": words,
    onPointerDown: (event: PointerEvent) => {
      held.current = bands;
      drawn.current?.setPointerCapture(event.pointerId);
      set(event);
    },
    onPointerMove: set,
    onPointerUp: () => {
      held.current = null;
    },
    onPointerCancel: () => {
      held.current = null;
    },
    onKeyDown: (event: KeyboardEvent) => {
      const step = event.key === "Home" ? -Infinity : STEPS[event.key];
      if (step === undefined) return;
      event.preventDefault();
      onDepth(Math.max(0, Math.round(depth_mm ?? 0) + step));
    },
  };
  return (
    <div class="coat-section">
      <svg ref={drawn} viewBox={`0 0 ${WIDTH} 100`} {...(slider ?? { role: "img" as const, "aria-label": [...coats].reverse().map((coat) => coat.label).concat(wallLabel).join(", ") })}>
        <Layers bands={bands} />
        {depth_mm !== null && depth_mm > 0 ? <Depth x={xOfDepth(bands, depth_mm)} knob={onDepth !== undefined} /> : null}
        {onDepth && !depth_mm ? <circle class="coat-knob" cx={14} cy={(TOP + BOTTOM) / 2} r={14} aria-hidden="true" /> : null}
      </svg>
      <Names coats={coats} />
      {onDepth ? <p class="coat-words">{depth_mm === null ? t("coat_pull") : words}</p> : null}
    </div>
  );
}
