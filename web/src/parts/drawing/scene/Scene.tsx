/** A small line drawing; what it shows is also said in words beside it. */
import { useId } from "preact/hooks";
import { HatchPattern, familyOf } from "../hatch";
import { type Pen, SCENES, type SceneName } from "./paths";
import "./scene.css";

export type { SceneName } from "./paths";

export function Scene({ name, wide = 120 }: { name: SceneName; wide?: number }) {
  const hatch = `scene${useId()}`;
  const loss = familyOf("loss");
  const fill = (pen: Pen) => (pen === "mark" && loss ? { fill: `url(#${hatch})` } : {});
  return (
    <svg class="scene" viewBox="0 0 120 64" width={wide} height={(wide * 64) / 120} aria-hidden="true">
      {loss ? <defs><HatchPattern id={hatch} family={loss} /></defs> : null}
      {SCENES[name].map(([pen, d]) => <path key={d} class={`scene-${pen}`} d={d} style={fill(pen)} />)}
    </svg>
  );
}
