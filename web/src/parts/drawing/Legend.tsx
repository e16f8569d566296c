/** What the hatches, pins and lines on a wall's drawing mean, below it; folded away or not on this phone, until it is closed. */
import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";
import type { Finish } from "../../model/types";
import { t } from "../../words";
import { vocabularyWord } from "../../words/vocabulary";
import { HatchPattern, familyIds, familyOf, pinPath } from "./hatch";
import type { DrawnMark } from "./WallDrawing";

const open = signal(true);

function Swatch({ id }: { id: string }) {
  const hatch = `swatch${useId()}`;
  const family = familyOf(id);
  if (!family) return null;
  return (
    <svg viewBox="0 0 64 26" width="64" height="26" aria-hidden="true">
      <defs><HatchPattern id={hatch} family={family} /></defs>
      <rect x="2" y="2" width="34" height="22" fill={`url(#${hatch})`} stroke={family.colour} stroke-width="2" />
      <path d={pinPath(id)} transform="translate(52 14)" fill={family.colour} stroke="#fffdf8" stroke-width="1.5" />
    </svg>
  );
}

/** A line as it stands on the drawing. */
function Line({ of, children }: { of: string; children: ComponentChildren }) {
  return <li><svg viewBox="0 0 64 26" width="64" height="26" aria-hidden="true"><rect class={of} x="3" y="3" width="32" height="20" /></svg><span>{children}</span></li>;
}

/** Only what stands on the drawing: families in the vocabulary's order, then the lines that are no damage. */
export function Legend({ marks, finishes }: { marks: readonly DrawnMark[]; finishes: readonly Finish[] }) {
  const families = familyIds().filter((id) => marks.some((mark) => mark.family === id && !mark.closed));
  const parts = finishes.filter((one) => one.region !== null);
  const [closed, unnamed] = [marks.some((mark) => mark.closed), marks.some((mark) => !mark.family && !mark.closed)];
  const [part, panel] = [parts.some((one) => !one.sample_panel), parts.some((one) => one.sample_panel)];
  if (families.length === 0 && !closed && !unnamed && parts.length === 0) return null;
  return (
    <details class="legend-fold" open={open.value} onToggle={(event) => { open.value = event.currentTarget.open; }}>
      <summary>{t("rain_legend")}</summary>
      <ul class="legend">
        {families.map((id) => <li key={id}><Swatch id={id} /><span>{vocabularyWord("families", id)}</span></li>)}
        {unnamed ? <Line of="mark-shape unnamed">{t("legend_unnamed")}</Line> : null}
        {closed ? <Line of="mark-shape closed">{t("legend_repaired")}</Line> : null}
        {part ? <Line of="finish-region">{t("legend_finish")}</Line> : null}
        {panel ? <Line of="finish-region panel">{t("legend_panel")}</Line> : null}
      </ul>
    </details>
  );
}
