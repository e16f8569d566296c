/** "For how many litres?": the batch card, by big buttons or by typing, kept per mix on this phone. */
import { useState } from "preact/hooks";
import type { Mix } from "../../model/catalogue";
import { readDraft, saveDraft } from "../../store";
import { t } from "../../words";
import { isUs, showMass, showVolume } from "../../words/measures";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { NumberField } from "../../parts/frame/Field";
import { RecipeLines } from "../../parts/ticket/BatchCards";
import { volumeInMeasures } from "../../parts/ticket/amountWords";
import { UNITS } from "../../model/units";

/** One bucket of it to begin with; the buttons move by a litre or half a gallon, by more from twenty up. */
const GALLON_L = UNITS.us_gal[1];
const MOST_L = 2000;

const typedFrom = (litres: number): number => Number((isUs() ? litres / GALLON_L : litres).toFixed(2));
const litresFrom = (typed: number): number => (isUs() ? typed * GALLON_L : typed);
const stepAt = (typed: number): number => (typed >= 20 ? 5 : typed > 2 ? 1 : 0.5);

export function LitresCard({ id, mix }: { id: string; mix: Mix }) {
  const key = `litres/${id}`;
  const [litres, setLitres] = useState<number>(() => readDraft<number>(key) ?? (isUs() ? 2 * GALLON_L : 10));
  const [typing, setTyping] = useState(0);
  const [empty, setEmpty] = useState(false);
  const set = (next: number) => {
    const kept = Math.min(MOST_L, Math.max(0, next));
    setLitres(kept);
    void saveDraft(key, kept);
  };
  const press = (way: 1 | -1) => {
    const typed = typedFrom(litres);
    // Going down from 20 is by one again, so that up and down meet.
    const step = stepAt(way < 0 ? typed - 0.01 : typed);
    const next = way > 0 ? Math.floor(typed / step + 1e-9) * step + step : Math.ceil(typed / step - 1e-9) * step - step;
    setEmpty(false);
    set(litresFrom(Math.max(step, next)));
    setTyping(typing + 1);
  };
  const onInput = (typed: number | null) => {
    setEmpty(typed === null || typed <= 0);
    if (typed !== null && typed > 0) set(litresFrom(typed));
  };
  return (
    <Card title={t(isUs() ? "gallons_title" : "litres_title")}>
      <div class="stepper">
        <Button kind="primary" onPress={() => press(-1)} label={t("litres_less")}><span aria-hidden="true">−</span></Button>
        <NumberField key={typing} label={t("litres_label")} unit={isUs() ? "gal" : "L"} value={typedFrom(litres)} onInput={onInput} wrong={empty ? t("litres_wrong") : null} />
        <Button kind="primary" onPress={() => press(1)} label={t("litres_more")}><span aria-hidden="true">+</span></Button>
      </div>
      <p role="status">{t("litres_say", { volume: showVolume(litres), measured: volumeInMeasures(litres), mass: showMass(litres * mix.yield.fresh_kg_l.likely) })}</p>
      <RecipeLines mix={mix} litres={litres} />
    </Card>
  );
}
