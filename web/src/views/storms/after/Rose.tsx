/** The rain rose: what an upright wall took in each of sixteen directions, with the sides of this site on its rim. */
import { useId } from "preact/hooks";
import { type Petal, petalPath, roseOf, stepOf } from "../../../model/storm/rain_drawing";
import type { Told } from "../../../model/storm/told";
import { t } from "../../../words";
import { showBearing } from "../../../words/measures";
import { type SideRow, doseNumber, showDose } from "./doses";
import { RainHatches } from "./RainHatch";

const at = (bearing_deg: number, radius: number) => {
  const turn = (bearing_deg * Math.PI) / 180;
  return { x: Math.sin(turn) * radius, y: -Math.cos(turn) * radius };
};

const RINGS = [0.5, 1];
const BETWEEN_DEG = [45, 135, 225, 315];
const doseAt = (petals: readonly Petal[], bearing_deg: number) => petals.find((one) => one.bearing_deg === bearing_deg)?.dose.likely ?? 0;
const leastOf = (petals: readonly Petal[]) => BETWEEN_DEG.reduce((a, b) => (doseAt(petals, b) < doseAt(petals, a) ? b : a));

export function Rose({ storm, sides }: { storm: Told; sides: readonly SideRow[] }) {
  const prefix = `rose${useId()}`;
  const petals = roseOf(storm);
  const top = petals.reduce((a, b) => (b.dose.likely > a.dose.likely ? b : a), petals[0] ?? { bearing_deg: 0, dose: { likely: 0 } });
  const most = top.dose.likely;
  if (!petals.length) return null;
  // Where the rings are told, between the letters of the compass: on the side that took least.
  const clear = leastOf(petals);
  const label = most > 0 ? t("rain_rose_said", { point: showBearing(top.bearing_deg), dose: showDose(most) }) : t("rain_rose_none");
  return (
    <figure class="rain-rose">
      <svg viewBox="-1.5 -1.5 3 3" role="img" aria-label={label}>
        <RainHatches prefix={prefix} scale={0.011} />
        {RINGS.map((r) => <circle key={r} r={r} class="rose-ring" />)}
        {most > 0 ? petals.map(({ bearing_deg, dose }) => (
          <path key={bearing_deg} class="rose-petal" d={petalPath(bearing_deg, dose.likely / most)} fill={`url(#${prefix}-${stepOf(dose.likely)})`} />
        )) : null}
        {most > 0 ? RINGS.map((r) => <text key={r} class="rose-value" {...at(clear, r)} dy="0.04">{r === 1 ? showDose(most) : doseNumber(most * r)}</text>) : null}
        {[0, 90, 180, 270].map((deg) => <text key={deg} class="rose-point" {...at(deg, 1.34)} dy="0.07">{showBearing(deg)}</text>)}
        {sides.map(({ elevation }) => <circle key={elevation.id} class="rose-side" r="0.045" cx={at(elevation.bearing_deg, 1.1).x} cy={at(elevation.bearing_deg, 1.1).y} />)}
      </svg>
      <figcaption class="hint">{t("rain_rose_caption")}</figcaption>
    </figure>
  );
}
