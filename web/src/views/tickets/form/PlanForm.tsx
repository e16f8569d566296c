/** The choices of a ticket, each with what was suggested and why, and the estimate that follows from them at once. */
import { finishKindOf } from "../../../model/catalogue";
import { coatsFor } from "../../../model/materials/coats";
import type { Coat, Urgency } from "../../../model/types";
import { catalogue } from "../../../store";
import { language, refusalWords, t } from "../../../words";
import { mmFromTyped, showMm, showMostMm, showPercent, smallUnit, typedFromMm } from "../../../words/measures";
import { vocabularyList, vocabularyWord } from "../../../words/vocabulary";
import { Card } from "../../../parts/frame/Card";
import { NumberField, Pick, Select, TextField } from "../../../parts/frame/Field";
import { EstimateBody } from "../../../parts/ticket/Estimate";
import { EngineerFirst } from "../../../parts/ticket/HazardCard";
import { HowSteps } from "../../../parts/ticket/how/HowSteps";
import { WarningCard } from "../../../parts/ticket/Warnings";
import { type Known, engineerFirst, kindWords, methodHere, pressing, reckon, siteNow, suggestedFor } from "../../../parts/ticket/gathered";
import { defectLabel } from "../../../parts/judged";
import { CoatFields } from "./CoatFields";
import { Reasons } from "../StandingCard";
import { type Plan, type PlannedCoat, MOST_MARGIN_MM, lossWrong, marginWrong, wantedOf } from "./plan";
import { offerUndo } from "../../../parts/undo/undo";

export type PlanProps = { plan: Plan; known: readonly Known[]; onChange: (change: Partial<Plan>) => void };

/** Coats that a person set are given up, for the usual ones or along with their method. */
function giveUpCoats({ plan, onChange }: PlanProps, method: string | null): void {
  const before = { method: plan.method, coats: plan.coats };
  onChange({ method, coats: null });
  if (before.coats) offerUndo({ say: t("undo_removed", { name: t("coats_own") }), back: () => onChange(before), here: true });
}

function MethodField(props: PlanProps) {
  const { plan, known } = props;
  const methods = Object.keys(catalogue.value?.methods ?? {});
  const suggested = suggestedFor(known);
  const chosen = plan.method ?? suggested?.method ?? "";
  const wordsOf = (id: string, coats: Plan["coats"] = null) => methodHere(id, known, wantedOf({ ...plan, coats }, known).coats)?.words[language()];
  const because = suggested?.because.defect;
  const name = suggested ? wordsOf(suggested.method)?.name ?? suggested.method : "";
  return (
    <Card title={t("method_title")}>
      <Select
        label={t("method_label")} value={chosen} onPick={(id) => giveUpCoats(props, id)}
        options={methods.map((id) => ({ id, label: wordsOf(id, id === chosen ? plan.coats : null)?.name ?? id }))} hint={wordsOf(chosen, plan.coats)?.short}
      />
      {because ? <p class="hint">{t("method_why", { method: name, mark: defectLabel(because), kind: kindWords(because) })}</p> : null}
      {because?.kind ? <p class="hint">{vocabularyWord("kinds", because.kind, "repair")}</p> : null}
    </Card>
  );
}

function UrgencyField({ plan, known, onChange }: PlanProps) {
  const found = pressing(known);
  const suggested = found?.urgency ?? "keep_watch";
  return (
    <Card title={t("urgency_title")} help="urgency">
      {found ? <Reasons reasons={found.reasons} /> : null}
      <Pick
        legend={t("urgency_title")} hideLegend value={plan.urgency ?? suggested} onPick={(urgency) => onChange({ urgency: urgency === suggested ? null : urgency })}
        options={vocabularyList("urgencies").map(({ id }) => ({
          id: id as Urgency, label: vocabularyWord("urgencies", id), hint: id === suggested ? t("suggested") : undefined,
        }))}
      />
    </Card>
  );
}

/** The coats that would be laid if nobody changed them. */
function usualCoats(plan: Plan, known: readonly Known[]): Coat[] {
  const wanted = wantedOf(plan, known);
  const method = wanted.method ? catalogue.value?.methods[wanted.method] : undefined;
  const finish = known[0]?.judged.facts.finish_kind ?? finishKindOf([], {});
  return method ? coatsFor({ finish_kind: finish }, method) : [];
}

function AmountFields(props: PlanProps) {
  const { plan, known, onChange } = props;
  const wanted = wantedOf(plan, known);
  const method = wanted.method ? catalogue.value?.methods[wanted.method] : undefined;
  const coats: PlannedCoat[] = plan.coats ?? usualCoats(plan, known);
  if (!method || method.per === "none") return null;
  const usualLoss = siteNow()?.loss ?? method.loss.likely;
  return (
    <Card title={t("amounts_title")}>
      {method.coats.length > 0 ? <CoatFields coats={coats} onChange={(next) => onChange({ coats: next })} onUsual={plan.coats ? () => giveUpCoats(props, plan.method) : null} /> : null}
      <NumberField
        label={t("loss_label")} help="loss" unit="%" value={plan.loss === null ? null : Number((plan.loss * 100).toFixed(2))} hint={t("loss_hint", { usual: showPercent(usualLoss) })}
        wrong={lossWrong(plan) ? t("loss_wrong") : null} onInput={(typed) => onChange({ loss: typed === null ? null : typed / 100 })}
      />
      <NumberField
        label={t("margin_label")} help="margin" unit={smallUnit()} value={typedFromMm(plan.margin_mm)} hint={t("margin_hint", { usual: showMm(method.margin_mm) })}
        wrong={marginWrong(plan) ? t("margin_wrong", { most: showMostMm(MOST_MARGIN_MM) }) : null} onInput={(typed) => onChange({ margin_mm: mmFromTyped(typed) })}
      />
    </Card>
  );
}

function LiveEstimate({ plan, known }: PlanProps) {
  const wanted = wantedOf(plan, known);
  const book = catalogue.value;
  const method = wanted.method ? book?.methods[wanted.method] : undefined;
  const reckoned = reckon(wanted, book);
  if (!reckoned || !method) return null;
  if ("refused" in reckoned) return <Card title={t("estimate_title")}><p class="wrong" role="alert">{refusalWords(reckoned.refused)}</p></Card>;
  return (
    <>
      <Card title={t("estimate_title")}>
        <EstimateBody repair={reckoned.repair} />
        <details class="how"><summary>{t("how_title")}</summary><HowSteps repair={reckoned.repair} method={method} /></details>
      </Card>
      <WarningCard warnings={reckoned.repair.warnings} />
    </>
  );
}

export function PlanForm(props: PlanProps) {
  const { plan, known, onChange } = props;
  return (
    <>
      {engineerFirst(wantedOf(plan, known).method, known) ? <EngineerFirst /> : null}
      <div class="ticket-columns">
        <div><MethodField {...props} /><UrgencyField {...props} /><AmountFields key={`${plan.method} ${plan.coats === null}`} {...props} /></div>
        <div>
          <LiveEstimate {...props} />
          <TextField label={t("ticket_note")} value={plan.note} onInput={(note) => onChange({ note })} long max={4000} />
        </div>
      </div>
    </>
  );
}
