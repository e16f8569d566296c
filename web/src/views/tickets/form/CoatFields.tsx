/** The coats of a repair, changed one by one: mix and thickness, from the wall outwards. */
import { catalogue } from "../../../store";
import { language, t } from "../../../words";
import { mmFromTyped, showMostMm, smallUnit, typedFromMm } from "../../../words/measures";
import { Button } from "../../../parts/frame/Button";
import { NumberField, Select } from "../../../parts/frame/Field";
import { type PlannedCoat, MOST_COATS, MOST_COAT_MM, coatWrong } from "./plan";
import { useTakeOut } from "../../../parts/undo/undo";

/** A wash has no thickness to set; the catalogue's own stands for it. */
const WASH_MM = 0.25;

const isWash = (mix: string): boolean => catalogue.value?.mixes[mix]?.kind === "wash";

function usualMm(mix: string): number {
  const found = catalogue.value?.mixes[mix];
  return found?.kind === "wash" ? WASH_MM : (found?.coat_mm?.likely ?? 10);
}

function mixOptions(): { id: string; label: string }[] {
  const mixes = Object.entries(catalogue.value?.mixes ?? {}).filter(([, mix]) => mix.coat_mm !== null || mix.kind === "wash" || mix.kind === "grout");
  return mixes.map(([id, mix]) => ({ id, label: mix.words[language()].name })).sort((a, b) => a.label.localeCompare(b.label));
}

type RowProps = { coat: PlannedCoat; n: number; onChange: (coat: PlannedCoat) => void; onRemove: () => void };

function CoatRow({ coat, n, onChange, onRemove }: RowProps) {
  return (
    <fieldset class="coat-row">
      <legend>{t("coat_n", { n })}</legend>
      <Select label={t("coat_mix")} value={coat.mix} onPick={(mix) => onChange({ mix, thickness_mm: usualMm(mix) })} options={mixOptions()} />
      {isWash(coat.mix) ? null : (
        <NumberField
          key={coat.mix} label={t("coat_thickness")} unit={smallUnit()} value={typedFromMm(coat.thickness_mm)} wrong={coatWrong(coat) ? t("coat_wrong", { most: showMostMm(MOST_COAT_MM) }) : null}
          onInput={(typed) => onChange({ ...coat, thickness_mm: mmFromTyped(typed) })}
        />
      )}
      <Button onPress={onRemove} label={t("coat_remove", { n })}>{t("remove")}</Button>
    </fieldset>
  );
}

/** `onUsual` gives up what a person set; null while nobody set anything. */
type Props = { coats: PlannedCoat[]; onChange: (coats: PlannedCoat[]) => void; onUsual: (() => void) | null };

export function CoatFields({ coats, onChange, onUsual }: Props) {
  const takeOut = useTakeOut(coats, onChange);
  const last = coats.at(-1)?.mix ?? mixOptions()[0]?.id ?? "";
  return (
    <>
      {coats.map((coat, i) => (
        <CoatRow
          key={`${i} ${coats.length}`} coat={coat} n={i + 1} onChange={(next) => onChange(coats.map((one, j) => (i === j ? next : one)))}
          onRemove={() => takeOut(i, t("coat_n", { n: i + 1 }))}
        />
      ))}
      <div class="deeds">
        {coats.length < MOST_COATS ? <Button onPress={() => onChange([...coats, { mix: last, thickness_mm: usualMm(last) }])}>{t("coat_add")}</Button> : null}
        {onUsual ? <Button onPress={onUsual}>{t("coat_usual")}</Button> : null}
      </div>
    </>
  );
}
