/** The small drawing of a kind of defect, from the catalogue. */
import { useId } from "preact/hooks";
import { vocabularyList } from "../../words/vocabulary";
import { HatchPattern, drawingOf, familyOf } from "./hatch";

/** The family a kind belongs to, or null. */
export function familyOfKind(kind: string | null): string | null {
  const entry = vocabularyList("kinds").find((one) => one.id === kind) as { family?: string } | undefined;
  return entry?.family ?? null;
}

export function KindDrawing({ kind }: { kind: string }) {
  const hatch = `kind${useId()}`;
  const drawing = drawingOf(kind);
  const family = familyOf(familyOfKind(kind));
  if (!drawing) return null;
  const colour = family?.colour ?? drawing.ink;
  return (
    <svg viewBox={drawing.viewBox} class="kind-drawing" aria-hidden="true">
      {family ? <defs><HatchPattern id={hatch} family={family} /></defs> : null}
      {drawing.strokes.map((stroke, i) => (
        <path
          key={i} d={stroke.d} stroke-width={`calc(${stroke.width}px * var(--bold))`} stroke-linejoin="round"
          fill={stroke.fill === "hatch" ? `url(#${hatch})` : (drawing.fills[stroke.fill] ?? "none")}
          stroke={stroke.stroke === "none" ? "none" : stroke.stroke === "family" ? colour : drawing.ink}
        />
      ))}
    </svg>
  );
}
