/** What really went into a repair, beside what was planned. */
import { useState } from "preact/hooks";
import type { Catalogue } from "../../../model/catalogue";
import type { Repair } from "../../../model/repair/repair";
import type { Used } from "../../../model/types";
import { catalogue } from "../../../store";
import { language, t } from "../../../words";
import { type Asked, areaFromTyped, areaUnit, massAsked, mmFromTyped, showNumber, smallUnit, typedFromArea, typedFromMm, volumeAsked } from "../../../words/measures";
import { Card } from "../../../parts/frame/Card";
import { NumberField } from "../../../parts/frame/Field";
import { unitAmount } from "../../../parts/ticket/amountWords";
import type { StepDraft } from "./stepDraft";

type Unit = Catalogue["materials"][string]["unit"];
/** Asked for in the unit the plan is told in. */
const ASKED: Record<Unit, (planned: number) => Asked> = {
  kg: massAsked,
  l: volumeAsked,
  m2: () => ({ unit: areaUnit(), typed: typedFromArea, kept: areaFromTyped }),
  each: () => ({ unit: "×", typed: (value) => value, kept: (value) => value }),
};
const MOST = 1e5;
/** As the server takes them. */
const [MOST_BATCHES, MOST_MM] = [1000, 500];
const rangeWords = (value: number | null, most: number, shown = most): string | null =>
  (value === null || (value >= 0 && value <= most) ? null : t("form_number", { low: 0, high: showNumber(shown, 1) }));
const allowed = (value: number | null): boolean => value === null || (value >= 0 && value <= MOST);

/** The amounts as the step keeps them; null where none was told. */
export function usedOf(used: StepDraft["used"]): Used | null {
  const found = Object.entries(used).flatMap(([id, amount]) => {
    const unit = catalogue.value?.materials[id]?.unit;
    return unit ? [[id, { [unit]: amount }] as const] : [];
  });
  return found.length > 0 ? (Object.fromEntries(found) as Used) : null;
}

function MaterialField({ id, planned, draft, change }: { id: string; planned: number; draft: StepDraft; change: (part: Partial<StepDraft>) => void }) {
  const [outside, setOutside] = useState(false);
  const material = catalogue.value?.materials[id];
  if (!material) return null;
  const { unit, typed, kept } = ASKED[material.unit](planned);
  const set = (value: number | null) => {
    setOutside(!allowed(kept(value)));
    const { [id]: _old, ...others } = draft.used;
    const amount = kept(value);
    change({ used: amount === null || !allowed(amount) ? others : { ...others, [id]: amount } });
  };
  return (
    <NumberField label={material.words[language()]} unit={unit} value={typed(draft.used[id] ?? null)} onInput={set}
      wrong={outside ? t("form_number", { low: 0, high: showNumber(typed(MOST) ?? MOST, 0) }) : null} hint={t("used_planned", { amount: unitAmount(material, planned) })} />
  );
}

export function UsedFields({ repair, draft, change }: { repair: Repair; draft: StepDraft; change: (part: Partial<StepDraft>) => void }) {
  const ids = Object.keys(repair.materials).filter((id) => id !== "water");
  if (ids.length === 0) return null;
  return (
    <Card title={t("used_title")}>
      <p class="hint">{t("used_why")}</p>
      {repair.mixes.length > 0 ? <NumberField label={t("used_batches")} value={draft.batches} wrong={rangeWords(draft.batches, MOST_BATCHES)} onInput={(batches) => change({ batches })} /> : null}
      {repair.in_place_l.likely > 0 ? (
        <NumberField label={t("used_thickness")} unit={smallUnit()} value={typedFromMm(draft.thickness_mm)} wrong={rangeWords(draft.thickness_mm, MOST_MM, typedFromMm(MOST_MM) ?? MOST_MM)} onInput={(value) => change({ thickness_mm: mmFromTyped(value) })} />
      ) : null}
      {ids.map((id) => <MaterialField key={id} id={id} planned={repair.materials[id]?.amount.likely ?? 0} draft={draft} change={change} />)}
    </Card>
  );
}
