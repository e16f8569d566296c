/** A photo on which four numbered points are set: by taps, by dragging, or by a cross that the arrow keys move. */
import type { RefObject } from "preact";
import { useRef, useState } from "preact/hooks";
import type { PhotoPoint } from "../../../model/types";
import { t } from "../../../words";

export type PhotoSize = { width_px: number; height_px: number };
type Props = { url: string; size: PhotoSize; points: readonly PhotoPoint[]; names: readonly string[]; onPoints: (points: readonly PhotoPoint[]) => void };

export const POINTS = 4;
/** A finger that moves less than this share of the photo has tapped. */
const SLIP = 0.012;
const ARROWS: Record<string, readonly [number, number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function arrow(event: KeyboardEvent, size: PhotoSize): readonly [number, number] | null {
  const way = ARROWS[event.key];
  const step = (event.shiftKey ? 0.001 : 0.02) * size.width_px;
  return way ? [way[0] * step, way[1] * step] : null;
}

/** Sets points within the photo, and remembers which one is chosen. */
function usePoints({ size, points, onPoints }: Props) {
  const [chosen, setChosen] = useState<number | null>(null);
  const inside = ([x, y]: PhotoPoint): PhotoPoint => [Math.round(Math.min(Math.max(x, 0), size.width_px)), Math.round(Math.min(Math.max(y, 0), size.height_px))];
  const move = (index: number, to: PhotoPoint) => onPoints(points.map((point, i) => (i === index ? inside(to) : point)));
  const put = (at: PhotoPoint) => {
    if (chosen !== null) {
      move(chosen, at);
      setChosen(null);
    } else if (points.length < POINTS) onPoints([...points, inside(at)]);
  };
  return { chosen, setChosen, move, put, inside };
}

type PointProps = { index: number; at: PhotoPoint; name: string; scale: number; chosen: boolean; onKey: (event: KeyboardEvent) => void; onDown: (event: PointerEvent) => void };

function Point({ index, at, name, scale, chosen, onKey, onDown }: PointProps) {
  return (
    <g
      role="button" tabindex={0} class={chosen ? "photo-point chosen" : "photo-point"} transform={`translate(${at[0]} ${at[1]}) scale(${scale})`}
      aria-label={t("underlay_point", { n: index + 1, where: name })} aria-pressed={chosen} onKeyDown={onKey} onPointerDown={onDown}
    >
      <circle class="reach" r={24} />
      <circle class="dot" r={14} />
      <text y={5}>{index + 1}</text>
      <path d="M-24 0H-15M15 0H24M0-24V-15M0 15V24" stroke="#fff" stroke-width="2.5" />
    </g>
  );
}

type Points = ReturnType<typeof usePoints>;

/** The cross that arrow keys move, and points moved by them. */
function useKeys({ size, points }: Props, { chosen, setChosen, move, put, inside }: Points) {
  const [cross, setCross] = useState<PhotoPoint | null>(null);
  const onKey = (event: KeyboardEvent) => {
    const way = arrow(event, size);
    const now = cross ?? [size.width_px / 2, size.height_px / 2];
    if (way) setCross(inside([now[0] + way[0], now[1] + way[1]]));
    else if (event.key === "Enter" || event.key === " ") put(now);
    else return;
    event.preventDefault();
  };
  const onPointKey = (index: number) => (event: KeyboardEvent) => {
    const [way, now] = [arrow(event, size), points[index]];
    if (way && now) move(index, [now[0] + way[0], now[1] + way[1]]);
    else if (event.key === "Enter" || event.key === " ") setChosen(chosen === index ? null : index);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return { cross, onKey, onPointKey };
}

/** Taps set points, a finger that starts on one drags it. */
function useFinger({ size, points }: Props, { chosen, setChosen, move, put }: Points, drawn: RefObject<SVGSVGElement | null>) {
  const drag = useRef<{ index: number; moved: boolean } | null>(null);
  const at = (event: MouseEvent): PhotoPoint => {
    const edge = (drawn.current as SVGSVGElement).getBoundingClientRect();
    return [((event.clientX - edge.left) / edge.width) * size.width_px, ((event.clientY - edge.top) / edge.height) * size.height_px];
  };
  const onDown = (index: number) => (event: PointerEvent) => {
    drag.current = { index, moved: false };
    drawn.current?.setPointerCapture(event.pointerId);
  };
  const onMove = (event: PointerEvent) => {
    const held = drag.current;
    const now = held && points[held.index];
    if (!held || !now) return;
    const to = at(event);
    held.moved ||= Math.hypot(to[0] - now[0], to[1] - now[1]) > SLIP * size.width_px;
    if (held.moved) move(held.index, to);
  };
  const onUp = () => {
    if (drag.current && !drag.current.moved) setChosen(chosen === drag.current.index ? null : drag.current.index);
  };
  const onClick = (event: MouseEvent) => {
    if (drag.current) drag.current = null;
    else if (event.detail > 0) put(at(event));
  };
  return { onDown, onMove, onUp, onClick };
}

export function PhotoPoints(props: Props) {
  const { url, size, points, names } = props;
  const set = usePoints(props);
  const drawn = useRef<SVGSVGElement>(null);
  const { cross, onKey, onPointKey } = useKeys(props, set);
  const { onDown, onMove, onUp, onClick } = useFinger(props, set, drawn);
  const scale = size.width_px / (drawn.current?.clientWidth || Math.min(700, window.innerWidth - 36));
  return (
    <div class="photo-points">
      <svg
        ref={drawn} viewBox={`0 0 ${size.width_px} ${size.height_px}`} role="application" tabindex={0} aria-label={t("underlay_photo", { n: points.length })}
        onKeyDown={onKey} onPointerMove={onMove} onPointerUp={onUp} onClick={onClick}
      >
        <image href={url} width={size.width_px} height={size.height_px} />
        {points.length === POINTS ? <path class="photo-quad" d={`M${points.map((point) => point.join(" ")).join("L")}z`} /> : null}
        {points.map((point, i) => <Point key={i} index={i} at={point} name={names[i] ?? ""} scale={scale} chosen={set.chosen === i} onKey={onPointKey(i)} onDown={onDown(i)} />)}
        {cross ? ["photo-cross", "photo-cross inner"].map((look) => <path key={look} class={look} d="M-18 0H18M0-18V18" transform={`translate(${cross[0]} ${cross[1]}) scale(${scale})`} />) : null}
      </svg>
      <p class="unseen">{t("underlay_keys")}</p>
    </div>
  );
}
