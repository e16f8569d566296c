/** The six steps of driven rain as hatches: denser and darker the more fell, so that they stay apart in grey. */
import { STEPS, STEP_ENDS_L_M2, type Step } from "../../../model/storm/rain_drawing";
import { t } from "../../../words";
import { doseNumber, showDose } from "./doses";

const LOOKS: Record<Step, { ground: string; line: string; spacing: number; width: number; crossed?: boolean }> = {
  0: { ground: "#fffdf8", line: "none", spacing: 12, width: 0 },
  1: { ground: "#f1f4fb", line: "#5a6a96", spacing: 14, width: 1.2 },
  2: { ground: "#dbe2f3", line: "#46578a", spacing: 9, width: 1.5 },
  3: { ground: "#b9c6e6", line: "#35477d", spacing: 6.5, width: 1.8 },
  4: { ground: "#8fa2d2", line: "#26365f", spacing: 6, width: 2, crossed: true },
  5: { ground: "#5d74b1", line: "#141d38", spacing: 4.5, width: 2.2, crossed: true },
};

/** `scale`: drawing units to a pixel. */
export function RainHatches({ prefix, scale = 1 }: { prefix: string; scale?: number }) {
  return (
    <defs>
      {STEPS.map((step) => {
        const { ground, line, spacing, width, crossed } = LOOKS[step];
        return (
          <pattern key={step} id={`${prefix}-${step}`} width={spacing} height={spacing} patternUnits="userSpaceOnUse" patternTransform={`scale(${scale}) rotate(60)`}>
            <rect width={spacing} height={spacing} fill={`var(--ground, ${ground})`} />
            <path d={`M0 ${spacing / 2}H${spacing}${crossed ? `M${spacing / 2} 0V${spacing}` : ""}`} stroke={line === "none" ? line : `var(--drawn, ${line})`} stroke-width={width} fill="none" />
          </pattern>
        );
      })}
    </defs>
  );
}

export function stepWords(step: Step): string {
  const ends: readonly number[] = STEP_ENDS_L_M2;
  const [from, to] = [ends[step - 1], ends[step]];
  if (from === undefined) return t("rain_step_dry", { to: showDose(to ?? 0) });
  return to === undefined ? t("rain_step_over", { from: showDose(from) }) : t("rain_step", { from: doseNumber(from), to: showDose(to) });
}

export function RainLegend() {
  return (
    <ul class="rain-legend" aria-label={t("rain_legend")}>
      {STEPS.map((step) => (
        <li key={step}>
          <svg width="36" height="24" aria-hidden="true"><RainHatches prefix={`legend${step}`} /><rect x="1" y="1" width="34" height="22" fill={`url(#legend${step}-${step})`} stroke="var(--ink)" /></svg>
          {stepWords(step)}
        </li>
      ))}
    </ul>
  );
}
