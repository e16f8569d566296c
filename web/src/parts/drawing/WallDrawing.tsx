/** A wall drawn to true scale with what was found on it: to look at, or to set a pin, a line or an outline. */
import type { ComponentChildren } from "preact";
import { useId, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import { shownBox } from "../../model/drawing/lens";
import { type Box, boxOf, stepFrom } from "../../model/drawing/plan";
import { extentOf, viewsOf } from "../../model/drawing/projection";
import { Refusal } from "../../model/refusal";
import { surfaceHeight } from "../../model/surface";
import type { Elevation, Finish, Id, Mark, Surface, View, WallPoint } from "../../model/types";
import { refusalWords, t } from "../../words";
import { withUnit } from "../../words/measures";
import { Button } from "../frame/Button";
import { BackdropImage, OpacityRow, type Source, sourceOf, useStraight } from "./Backdrop";
import { Hatches } from "./hatch";
import { Marks, Tokens } from "./Marks";
import { PenLayer, PenStatus } from "./Pen";
import { type Group, placeMarks, sceneOf, touched } from "./placed";
import { type Grip, LOW_ROOM, type Lensed, WALL_ROOM, useLens } from "./useLens";
import { type Pen, usePen } from "./usePen";
import "./wall.css";
import { FinishRegions, HeightLines, SmallWall, WallGround, stepUnit } from "./WallGround";

export type DrawnMark = {
  id: Id;
  label: string;
  mark: Mark;
  family: string | null;
  /** Full spoken name: "14, spalling, 0.62 m2, before next rain". */
  name: string;
  closed?: boolean;
};
export type DrawingMode = "look" | "pin" | "line" | "outline";
export type WallDrawingProps = {
  elevation: Elevation; view?: View; marks: readonly DrawnMark[]; chosen?: Id | null; onChoose?: (id: Id) => void; mode?: DrawingMode;
  draft?: readonly WallPoint[]; onDraft?: (points: readonly WallPoint[]) => void; finishes?: readonly Finish[]; label: string;
  /** A small picture only, with pins this large against the large drawing. */
  compact?: number;
  /** A picture to lay behind instead of the elevation's own backdrop. */
  behind?: Source | null;
  /** The id of the sentence that says what is wrong with what is drawn. */
  wrongBy?: string;
  /** What to do with the pen, where this is not about a defect. */
  ask?: string;
  /** Leave room on a phone for the form that stands below. */
  low?: boolean;
};

const NO_POINTS: readonly WallPoint[] = [];

/** The code of what makes these sizes no wall, or null. */
function troubleWith(surface: Surface): string | null {
  try {
    surfaceHeight(surface);
    return null;
  } catch (error) {
    if (error instanceof Refusal) return error.code;
    throw error;
  }
}

export function WallDrawing(props: WallDrawingProps) {
  const trouble = troubleWith(props.elevation.surface);
  if (trouble) return <p class="wrong">{refusalWords(trouble)}</p>;
  if (props.compact) return <SmallWall elevation={props.elevation} marks={props.marks} label={props.label} pins={props.compact} />;
  return <FullDrawing {...props} />;
}

function ScaleBar({ m_per_px }: { m_per_px: number }) {
  const { unit, metres, steps } = stepUnit();
  const length = stepFrom(steps.map((step) => step * metres), 56 * m_per_px);
  return (
    <span class="scale-bar">
      <span class="scale-rule" style={{ width: `${length / m_per_px}px` }} />
      {withUnit(length / metres, unit)}
    </span>
  );
}

export function ZoomButtons({ lensed }: { lensed: Lensed }) {
  return (
    <span class="zooms">
      <Button label={t("drawing_smaller")} disabled={lensed.whole} onPress={() => lensed.zoom(0.5)}><span aria-hidden="true">−</span></Button>
      <Button label={t("drawing_larger")} onPress={() => lensed.zoom(2)}><span aria-hidden="true">+</span></Button>
      <Button label={t("drawing_whole")} disabled={lensed.whole} onPress={lensed.showWhole}><span aria-hidden="true">⤢</span></Button>
    </span>
  );
}

const WAYS = [["left", -1, 0, "←"], ["right", 1, 0, "→"], ["up", 0, -1, "↑"], ["down", 0, 1, "↓"]] as const;

/** To move an enlarged wall without dragging it: each press by half of what is shown. */
function PanButtons({ lensed }: { lensed: Lensed }) {
  if (lensed.whole) return null;
  return (
    <div class="pans" role="group" aria-label={t("drawing_pan")}>
      {WAYS.map(([way, across, down, sign]) => (
        <Button key={way} label={t(`drawing_pan_${way}`)} onPress={() => lensed.pan(across, down)}><span aria-hidden="true">{sign}</span></Button>
      ))}
    </div>
  );
}

/** The frame on the page: the drawn layer, and what stands still over it. */
type FrameProps = { lensed: Lensed; drawing: boolean; children: ComponentChildren; pen: Pen; label: string; wrongBy?: string };

function Frame({ lensed, drawing, children, pen, label, wrongBy }: FrameProps) {
  const { lens, frame, frameRef, layerRef, whole } = lensed;
  const help = useId();
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === "+" || event.key === "=") lensed.zoom(2);
    else if (event.key === "-") lensed.zoom(0.5);
    else if (event.key === "0") lensed.showWhole();
    else if (drawing) pen.onKey(event);
  };
  const { width_px, height_px } = frame ?? { width_px: 320, height_px: 240 };
  const size = `${lens.left_m} ${-lens.top_m} ${width_px * lens.m_per_px} ${height_px * lens.m_per_px}`;
  return (
    <div class={drawing ? "wall-frame drawing" : "wall-frame"} ref={frameRef} style={{ height: `${height_px}px`, touchAction: drawing || !whole ? "none" : "pan-y" }}>
      <p class="unseen" id={help}>{t(drawing ? "drawing_keys_pen" : "drawing_keys_look")}</p>
      <svg
        ref={layerRef} class="wall-layer" width={width_px} height={height_px} viewBox={size} role={drawing ? "application" : "group"} aria-label={label}
        aria-invalid={drawing && wrongBy ? true : undefined} aria-describedby={wrongBy ? `${wrongBy} ${help}` : help} tabindex={drawing ? 0 : undefined} onKeyDown={onKeyDown}
      >
        {frame ? children : null}
      </svg>
      <ScaleBar m_per_px={lens.m_per_px} />
      <ZoomButtons lensed={lensed} />
    </div>
  );
}

function grown(box: Box, share: number): Box {
  const [dx, dy] = [(box.x1 - box.x0) * share, (box.y1 - box.y0) * share];
  return { x0: box.x0 - dx, y0: box.y0 - dy, x1: box.x1 + dx, y1: box.y1 + dy };
}

/** The marks in this view, laid out for what the lens shows; the layer is made anew only when one of these changes. */
function useMarks(props: WallDrawingProps, view: View, lensed: Lensed, prefix: string) {
  const { marks, elevation, chosen = null } = props;
  const placed = useMemo(() => placeMarks(marks, elevation.surface, view), [marks, elevation.surface, view]);
  const { lens, frame } = lensed;
  const scene = useMemo(
    () => sceneOf(placed, frame ? grown(shownBox(lens, frame), 0.35) : boxOf([[0, 0]]), lens.m_per_px, chosen),
    [placed, lens, frame, chosen],
  );
  const openCrowd = (group: Group) => lensed.showBox(boxOf(group.members.map((one) => [one.x, one.y] as const)));
  const acts = useRef({ choose: props.onChoose, openCrowd });
  acts.current = { choose: props.onChoose, openCrowd };
  const layer = useMemo(
    () => (
      <Marks
        scene={scene} prefix={prefix} m_per_px={lens.m_per_px} chosen={chosen}
        onMark={(id) => acts.current.choose?.(id)} onCrowd={(group) => acts.current.openCrowd(group)}
      />
    ),
    [scene, lens.m_per_px],
  );
  return { placed, scene, layer, openCrowd };
}

/** The keyboard's cross never leaves the frame. */
function useFollow(cross: WallPoint | null, lensed: Lensed) {
  useLayoutEffect(() => {
    if (!cross || !lensed.frame) return;
    const shown = shownBox(lensed.lens, lensed.frame);
    if (cross[0] < shown.x0 || cross[0] > shown.x1 || cross[1] < shown.y0 || cross[1] > shown.y1) lensed.centreOn(cross);
  }, [cross]);
}

function FullDrawing(props: WallDrawingProps) {
  const { elevation, mode = "look", draft = NO_POINTS, onDraft = () => undefined, finishes = [], label } = props;
  const { surface } = elevation;
  const prefix = `hatch${useId()}`;
  const view = props.view && viewsOf(surface).includes(props.view) ? props.view : "seen";
  const box = useMemo(() => extentOf(surface, view), [surface, view]);
  const pen = usePen({ surface, view, mode, draft, onDraft });
  const look = useRef<Grip["onTap"]>(() => undefined);
  const looking: Grip = { draws: () => false, onFree: () => undefined, doubleTapZooms: true, onTap: (at, reach, target) => look.current(at, reach, target) };
  const lensed = useLens(box, mode === "look" ? looking : pen.grip, props.low ? LOW_ROOM : WALL_ROOM);
  const { placed, scene, layer, openCrowd } = useMarks(props, view, lensed, prefix);
  look.current = (at, m_per_px) => {
    const found = touched(scene, at, m_per_px);
    if (found && "members" in found) openCrowd(found);
    else if (found) props.onChoose?.(found.mark.id);
  };
  useFollow(pen.cross, lensed);
  const laid = useStraight(view === "seen" ? (props.behind ?? sourceOf(elevation.backdrop)) : null, box);
  const [opacity, setOpacity] = useState(elevation.backdrop?.opacity ?? 0.85);
  const { m_per_px } = lensed.lens;
  const shown = lensed.frame ? shownBox(lensed.lens, lensed.frame) : box;
  return (
    <div class="wall-drawing">
      <Frame lensed={lensed} drawing={mode !== "look"} pen={pen} label={label} wrongBy={props.wrongBy}>
        <defs><Hatches prefix={prefix} scale={m_per_px} /></defs>
        {laid ? <BackdropImage laid={laid} opacity={opacity} /> : null}
        <WallGround elevation={elevation} view={view} m_per_px={m_per_px} seeThrough={laid !== null && opacity > 0} />
        {view === "above" ? null : <HeightLines height={surfaceHeight(surface)} lens={lensed.lens} shown={shown} />}
        <FinishRegions finishes={finishes} surface={surface} view={view} m_per_px={m_per_px} />
        {mode === "look" ? layer : <><Tokens placed={placed} prefix={prefix} m_per_px={m_per_px} /><PenLayer pen={pen} mode={mode} surface={surface} view={view} m_per_px={m_per_px} /></>}
      </Frame>
      <PanButtons lensed={lensed} />
      {laid ? <OpacityRow opacity={opacity} onChange={setOpacity} /> : null}
      {mode === "look" ? null : <PenStatus pen={pen} mode={mode} surface={surface} view={view} ask={props.ask} />}
    </div>
  );
}
