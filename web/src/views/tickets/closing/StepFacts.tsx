/** What a step in the history brought: amounts used beside those planned, the points of a look, whose look it was. */
import { comparedWith } from "../../../model/closing/compare";
import type { Step, Ticket } from "../../../model/types";
import { catalogue, row } from "../../../store";
import { language, t } from "../../../words";
import { showDate, showMass, showMm, showNumber, showPercent } from "../../../words/measures";
import { vocabularyWord } from "../../../words/vocabulary";
import { unitAmount } from "../../../parts/ticket/amountWords";
import { reckon } from "../../../parts/ticket/gathered";

function UsedBars({ used, planned }: { used: number; planned: number }) {
  const full = Math.max(used, planned) * 1.04;
  const width = (value: number) => (156 * value) / full;
  return (
    <svg class="used-bars" viewBox="0 0 160 26" role="img" aria-label={t("used_total", { used: showMass(used), planned: showMass(planned), percent: showPercent(used / planned) })}>
      <rect x="1" y="2" width={width(planned)} height="9" fill="#fff" stroke="var(--ink)" stroke-width="1.2" stroke-dasharray="4 2" />
      <rect x="1" y="14" width={width(used)} height="9" fill="var(--indigo)" stroke="var(--ink)" stroke-width="1.2" />
    </svg>
  );
}

export function Used({ ticket, step }: { ticket: Ticket; step: Step }) {
  const materials = catalogue.value?.materials ?? {};
  const lines = Object.entries(step.used ?? {}).flatMap(([id, amount]) => {
    const material = materials[id];
    return material ? [`${material.words[language()]} ${unitAmount(material, Object.values(amount)[0] ?? 0)}`] : [];
  });
  const reckoned = reckon(ticket, catalogue.value);
  const compared = reckoned && "repair" in reckoned ? comparedWith(step.used, reckoned.repair.materials) : null;
  if (lines.length === 0 && step.batches === null && step.thickness_mm === null) return null;
  return (
    <div class="used">
      <p>{[lines.join(", "), step.batches === null ? "" : `${t("used_batches")}: ${showNumber(step.batches)}`, step.thickness_mm === null ? "" : `${t("used_thickness")}: ${showMm(step.thickness_mm)}`].filter(Boolean).join(" · ")}</p>
      {compared ? (
        <>
          <UsedBars used={compared.used_kg} planned={compared.planned_kg} />
          <p class="hint">{t("used_total", { used: showMass(compared.used_kg), planned: showMass(compared.planned_kg), percent: showPercent(compared.used_kg / compared.planned_kg) })}</p>
        </>
      ) : null}
    </div>
  );
}

export function StepFacts({ ticket, step }: { ticket: Ticket; step: Step }) {
  const storm = row("storm", step.storm_id);
  const answers = Object.entries(step.checks ?? {});
  return (
    <>
      {storm ? <p class="hint">{t("look_after_storm", { storm: storm.name })} ({showDate(storm.began_on)})</p> : null}
      {step.own_work ? <p class="hint">{t("look_own_keeper")}</p> : null}
      {answers.length > 0 ? <ul class="reasons">{answers.map(([point, answer]) => <li key={point}>{vocabularyWord("checks", point)}: {t(`look_${answer}`)}</li>)}</ul> : null}
      {step.kind === "done" ? <Used ticket={ticket} step={step} /> : null}
    </>
  );
}
