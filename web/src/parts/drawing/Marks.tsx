/** Marks on the drawing: outlines with their family's hatch, lines, pins, their numbers, and counted circles for crowds. */
import { useRef, useState } from "preact/hooks";
import { type Way, nearestToward } from "../../model/drawing/plan";
import type { Id } from "../../model/types";
import { t } from "../../words";
import { familyOf, pinPath } from "./hatch";
import { type Group, type Placed, type Scene, type Single, tagWidth_px } from "./placed";
import { pathOf } from "./WallGround";

const spot = (x: number, y: number, m_per_px: number) => `translate(${x.toFixed(4)} ${(-y).toFixed(4)}) scale(${m_per_px})`;

type ShapeProps = { placed: Placed; prefix: string; m_per_px: number };

/** The mark without its number. A closed one is only a broken outline. */
function MarkShape({ placed, prefix, m_per_px }: ShapeProps) {
  const { mark, points, at } = placed;
  const family = familyOf(mark.family);
  const look = mark.closed ? "mark-shape closed" : mark.family ? "mark-shape" : "mark-shape unnamed";
  const colour = mark.closed ? undefined : family?.colour;
  if (mark.mark.shape === "pin") {
    const fill = mark.closed ? undefined : colour;
    return <path class={`${look} pin`} d={pinPath(mark.family)} transform={spot(at.x, at.y, m_per_px)} style={{ fill }} />;
  }
  const d = pathOf(points, mark.mark.shape === "outline");
  if (mark.mark.shape === "line") return <><path class="mark-halo" d={d} /><path class={`${look} line`} d={d} style={{ stroke: colour }} /></>;
  const fill = mark.closed || !mark.family ? "none" : `url(#${prefix}-${mark.family})`;
  return <><path class="mark-halo" d={d} /><path class={look} d={d} style={{ stroke: colour, fill }} /></>;
}

type TokensProps = { placed: readonly Placed[]; prefix: string; m_per_px: number; size?: number };

/** Marks on a small drawing: shapes only. `size` is that of a pin against one on the large drawing. */
export function Tokens({ placed, prefix, m_per_px, size = 0.8 }: TokensProps) {
  return <g class="tokens" aria-hidden="true">{placed.map((one) => <MarkShape key={one.mark.id} placed={one} prefix={prefix} m_per_px={m_per_px * size} />)}</g>;
}

function NumberTag({ single, m_per_px, chosen }: { single: Single; m_per_px: number; chosen: boolean }) {
  if (!single.tag) return null;
  const { label, closed } = single.mark;
  const width = tagWidth_px(label);
  return (
    <g class={chosen ? "tag chosen" : closed ? "tag closed" : "tag"} transform={spot(single.tag.x, single.tag.y, m_per_px)}>
      <rect x={-width / 2} y={-13} width={width} height={26} rx={6} />
      <text y={5}>{label}</text>
    </g>
  );
}

type NodeProps = { tabbable: boolean; m_per_px: number; onKey: (event: KeyboardEvent) => void; onFocus: () => void; onPress: () => void };

// A press that a screen reader makes has no finger behind it (detail 0); fingers are heard by the frame, which knows the nearest mark.
const pressed = (act: () => void) => (event: MouseEvent) => {
  if (event.detail === 0) act();
};

// `tabindex` in lower case: Preact sets attributes on SVG elements as written, and there `tabIndex` means nothing.
function MarkNode({ single, prefix, chosen, ...node }: NodeProps & { single: Single; prefix: string; chosen: boolean }) {
  return (
    <g
      role="button" class={chosen ? "mark chosen" : "mark"} data-node={single.mark.id} aria-label={single.mark.name} aria-pressed={chosen}
      tabindex={node.tabbable ? 0 : -1} onKeyDown={node.onKey} onFocus={node.onFocus} onClick={pressed(node.onPress)}
    >
      <MarkShape placed={single} prefix={prefix} m_per_px={node.m_per_px} />
      <circle class="mark-reach" r={22} transform={spot(single.x, single.y, node.m_per_px)} />
    </g>
  );
}

function CrowdNode({ group, ...node }: NodeProps & { group: Group }) {
  const n = group.members.length;
  return (
    <g
      role="button" class="crowd" data-node={group.id} aria-label={t("drawing_crowd", { n })} transform={spot(group.x, group.y, node.m_per_px)}
      tabindex={node.tabbable ? 0 : -1} onKeyDown={node.onKey} onFocus={node.onFocus} onClick={pressed(node.onPress)}
    >
      <circle class="mark-reach" r={29} />
      <circle class="crowd-disc" r={n > 99 ? 26 : 22} />
      <text y={5}>{n}</text>
    </g>
  );
}

const WAYS: Record<string, Way> = { ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down" };

type MarksProps = { scene: Scene; prefix: string; m_per_px: number; chosen: Id | null; onMark: (id: Id) => void; onCrowd: (group: Group) => void };

/** One tab stop for all marks; arrows go to the nearest in their direction, Enter and space open. */
export function Marks({ scene, prefix, m_per_px, chosen, onMark, onCrowd }: MarksProps) {
  const [at, setAt] = useState<string | null>(null);
  const group = useRef<SVGGElement>(null);
  const nodes = [...scene.groups.map((one) => ({ id: one.id, x: one.x, y: one.y })), ...scene.singles.map((one) => ({ id: one.mark.id, x: one.x, y: one.y }))];
  const stop = [at, chosen].find((id) => nodes.some((node) => node.id === id)) ?? nodes[0]?.id;
  const onKey = (id: string, press: () => void) => (event: KeyboardEvent) => {
    const way = WAYS[event.key];
    if (!way && event.key !== "Enter" && event.key !== " ") return;
    event.preventDefault();
    event.stopPropagation();
    if (!way) return press();
    const next = nodes[nearestToward(nodes, nodes.findIndex((node) => node.id === id), way)];
    if (next) group.current?.querySelector<SVGGElement>(`[data-node="${next.id}"]`)?.focus();
  };
  const shared = (id: string, press: () => void) => ({ tabbable: id === stop, m_per_px, onKey: onKey(id, press), onFocus: () => setAt(id), onPress: press });
  // Large outlines first, so that small ones lie on top. The order never follows the choice: a node that moves loses the focus.
  const size = (one: Single) => (one.box.x1 - one.box.x0) * (one.box.y1 - one.box.y0);
  return (
    <g ref={group}>
      {[...scene.singles].sort((a, b) => size(b) - size(a) || (a.mark.id < b.mark.id ? -1 : 1)).map((single) => (
        <MarkNode key={single.mark.id} single={single} prefix={prefix} chosen={single.mark.id === chosen} {...shared(single.mark.id, () => onMark(single.mark.id))} />
      ))}
      <g aria-hidden="true" class="tags">{scene.singles.map((single) => <NumberTag key={single.mark.id} single={single} m_per_px={m_per_px} chosen={single.mark.id === chosen} />)}</g>
      {scene.groups.map((one) => <CrowdNode key={one.id} group={one} {...shared(one.id, () => onCrowd(one))} />)}
    </g>
  );
}
