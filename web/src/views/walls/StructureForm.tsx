/** A building or a free wall: what it is called and what it is made of. */
import { useState } from "preact/hooks";
import type { Structure } from "../../model/types";
import { putMany, row, whole } from "../../store";
import { useDraft } from "../../parts/draft";
import { Button } from "../../parts/frame/Button";
import { NumberField, Pick, TextField } from "../../parts/frame/Field";
import { Page } from "../../parts/frame/Page";
import { type Params, go } from "../../parts/frame/route";
import { leadToWrong } from "../../parts/frame/wrong";
import { may } from "../../parts/may";
import { t } from "../../words";
import { mmFromTyped, showNumber, smallUnit, typedFromMm } from "../../words/measures";
import { vocabularyList, vocabularyWord } from "../../words/vocabulary";
import { NotHere } from "../NotHere";
import { DropAsk, NotAllowed } from "./DropAsk";

type StructureDraft = { name: string; wall_material: string | null; wall_thickness_mm: number | null; note: string | null };
const begin = (one: Structure | undefined): StructureDraft => ({
  name: one?.name ?? "", wall_material: one?.wall_material ?? null, wall_thickness_mm: one?.wall_thickness_mm ?? null, note: one?.note ?? null,
});
/** As in shared/records.json. */
const [THINNEST_MM, THICKEST_MM] = [50, 2000];

function wrongWith({ name, wall_material, wall_thickness_mm: mm }: StructureDraft) {
  const range = { low: showNumber(typedFromMm(THINNEST_MM) ?? 0), high: showNumber(typedFromMm(THICKEST_MM) ?? 0) };
  return {
    name: name.trim() ? null : t("form_need_name"), material: wall_material ? null : t("form_need_material"),
    thickness: mm !== null && !(mm >= THINNEST_MM && mm <= THICKEST_MM) ? t("form_number", range) : null,
  };
}

function Fields({ value, change, tried }: { value: StructureDraft; change: (fields: Partial<StructureDraft>) => void; tried: boolean }) {
  const wrong = wrongWith(value);
  return (
    <>
      <TextField label={t("structure_name")} value={value.name} max={120} wrong={tried ? wrong.name : null} onInput={(name) => change({ name })} />
      <Pick
        legend={t("structure_material")} value={value.wall_material} wrong={tried ? wrong.material : null} onPick={(wall_material) => change({ wall_material })}
        options={vocabularyList("wall_materials").map((one) => ({ id: one.id, label: vocabularyWord("wall_materials", one.id) }))}
      />
      <NumberField
        label={t("structure_thickness")} unit={smallUnit()} value={typedFromMm(value.wall_thickness_mm)} wrong={wrong.thickness}
        onInput={(typed) => change({ wall_thickness_mm: mmFromTyped(typed) })}
      />
      <TextField label={t("structure_note")} long value={value.note ?? ""} max={4000} onInput={(note) => change({ note: note || null })} />
    </>
  );
}

export function StructureForm({ params }: { params: Params }) {
  const id = params.id ?? null;
  const known = row("structure", id);
  const key = `structure/${id ?? "new"}`;
  const [value, change] = useDraft(key, () => begin(known));
  const [tried, setTried] = useState(false);
  if (id && !known) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  const allowed = may(id ? "edit" : "make", "structure");
  const keep = async () => {
    setTried(true);
    if ((await leadToWrong()) || Object.values(wrongWith(value)).some(Boolean)) return;
    const set = { ...value, name: value.name.trim(), wall_material: value.wall_material ?? "" };
    const [kept] = await putMany([{ type: "structure", id, set }], { draft: key });
    go(id ? "/walls" : `/elevation/new?structure=${kept}`, true);
  };
  const deed = t(id ? "structure_keep_changes" : "structure_keep");
  return (
    <Page title={t(id ? "structure_edit" : "structure_new")} sub={known?.name} place="walls" back="/walls" actions={allowed ? <Button kind="primary" onPress={() => void keep()}>{deed}</Button> : null}>
      {allowed ? (
        <form class="form" onSubmit={(event) => { event.preventDefault(); void keep(); }}>
          <Fields value={value} change={change} tried={tried} />
          {known ? <DropAsk type="structure" id={known.id} name={known.name} title={t("structure_drop_title", { name: known.name })} say={t("structure_drop_say")} to="/walls" /> : null}
        </form>
      ) : <NotAllowed />}
    </Page>
  );
}
