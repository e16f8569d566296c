/** What weighs how much: a bar per material, the heaviest first; what is at hand already is only outlined. */
import type { Line } from "../../model/materials/buying";
import { t } from "../../words";
import { showMass } from "../../words/measures";
import { Card } from "../../parts/frame/Card";
import { nameWords } from "./lineWords";

export function WeightBars({ lines }: { lines: readonly Line[] }) {
  const shown = lines.filter((line) => line.bought.carry_kg > 0);
  const most = Math.max(0, ...shown.map((line) => line.bought.carry_kg));
  if (shown.length < 2) return null;
  return (
    <Card title={t("buying_weights")}>
      <ul class="weights">
        {shown.map((line) => {
          const { bought, have, id } = line;
          return (
            <li key={id}>
              <p><span>{nameWords(line)}</span> <strong>{have ? t("buying_had", { mass: showMass(bought.carry_kg) }) : showMass(bought.carry_kg)}</strong></p>
              <svg viewBox="0 0 320 14" class="weight-bar" aria-hidden="true" preserveAspectRatio="none">
                <path d="M1 13H319" stroke="var(--line)" stroke-width="1.5" />
                <rect x="1" y="1" width={Math.max(3, (318 * bought.carry_kg) / most)} height="11" class={have ? "weight-had" : "weight-open"} />
              </svg>
            </li>
          );
        })}
      </ul>
    </Card>
  );
}
