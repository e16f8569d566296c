/** The coats of a finish, from the wall outwards, with the section they make. */
import type { Coat } from "../../../model/types";
import { catalogue } from "../../../store";
import { CoatLayers } from "../../../parts/drawing/CoatLayers";
import { Button } from "../../../parts/frame/Button";
import { NumberField, Select } from "../../../parts/frame/Field";
import { t } from "../../../words";
import { mmFromTyped, smallUnit, typedFromMm } from "../../../words/measures";
import { mixWord } from "../../../words/vocabulary";
import { useTakeOut } from "../../../parts/undo/undo";

export type CoatSketch = { mix: string; thickness_mm: number | null };
/** As the server holds it. */
const THICKEST_MM = 500;

export const soundCoats = (coats: readonly CoatSketch[]): Coat[] | null =>
  (coats.every(({ mix, thickness_mm: mm }) => mix !== "" && mm !== null && mm > 0 && mm <= THICKEST_MM) ? (coats as Coat[]) : null);

type Props = { coats: readonly CoatSketch[]; wallLabel: string; tried: boolean; onCoats: (coats: CoatSketch[]) => void };

function CoatRow({ coat, n, tried, set, remove }: { coat: CoatSketch; n: number; tried: boolean; set: (fields: Partial<CoatSketch>) => void; remove: () => void }) {
  const mixes = Object.keys(catalogue.value?.mixes ?? {}).map((id) => ({ id, label: mixWord(id) })).sort((a, b) => a.label.localeCompare(b.label));
  const { thickness_mm: mm } = coat;
  const off = mm === null ? tried : !(mm > 0 && mm <= THICKEST_MM);
  return (
    <div class="sub-card">
      <Select label={t("finish_coat_mix", { n })} value={coat.mix} options={[{ id: "", label: "…" }, ...mixes]} wrong={tried && !coat.mix ? t("finish_need_mix") : null} onPick={(mix) => set({ mix })} />
      <NumberField
        label={t("finish_coat_thickness", { n })} unit={smallUnit()} value={typedFromMm(mm)} onInput={(typed) => set({ thickness_mm: mmFromTyped(typed) })}
        wrong={off ? t("form_number", { low: 0, high: typedFromMm(THICKEST_MM) ?? THICKEST_MM }) : null}
      />
      <Button onPress={remove}>{t("finish_coat_remove", { n })}</Button>
    </div>
  );
}

export function CoatFields({ coats, wallLabel, tried, onCoats }: Props) {
  const drawn = coats.filter((coat) => coat.mix !== "" && coat.thickness_mm !== null && coat.thickness_mm > 0).map((coat) => ({ mix: coat.mix, thickness_mm: coat.thickness_mm ?? 0 }));
  const last = coats.at(-1);
  const takeOut = useTakeOut(coats, onCoats);
  return (
    <fieldset class="coats">
      <legend>{t("finish_coats")}</legend>
      {coats.length === 0 ? <p class="hint">{t("finish_coats_none")}</p> : null}
      {coats.map((coat, i) => (
        <CoatRow
          key={`${coats.length}-${i}`} coat={coat} n={i + 1} tried={tried} set={(fields) => onCoats(coats.map((one, k) => (k === i ? { ...one, ...fields } : one)))}
          remove={() => takeOut(i, t("finish_coat_name", { n: i + 1, mix: coat.mix ? mixWord(coat.mix) : "" }).trim())}
        />
      ))}
      <div class="deeds"><Button onPress={() => onCoats([...coats, { mix: last?.mix ?? "", thickness_mm: null }])}>{t("finish_coat_add")}</Button></div>
      <CoatLayers coats={drawn} wallLabel={wallLabel} />
    </fieldset>
  );
}
