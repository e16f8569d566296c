/** Two answers to one question, given without knowing of each other: both shown in words, a person picks. */
import type { Clash, Defect, Mark } from "../../../model/types";
import { sizeOfMark } from "../../../model/defect";
import { ClashAnswers } from "../../../parts/ClashAnswers";
import { Card } from "../../../parts/frame/Card";
import { row } from "../../../store";
import { clashesOf } from "../../../store/lookup";
import { type WordKey, language, t } from "../../../words";
import { vocabularyWord } from "../../../words/vocabulary";
import { areaWords } from "../sizes";
import { kindName } from "../trade";

const FIELD_WORDS: Record<string, WordKey> = {
  kind: "clash_kind", cause: "clash_cause", signs: "clash_signs", mark: "clash_mark", note: "clash_note", deleted: "clash_deleted", elevation_id: "clash_elevation",
};

function markWords(mark: Mark, defect: Defect): string {
  const elevation = row("elevation", defect.elevation_id);
  const size = elevation ? areaWords(sizeOfMark(mark, elevation)) : null;
  const shape = t(`mark_shape_${mark.shape}`);
  return size ? t("clash_mark_sized", { shape, size }) : shape;
}

/** An answer as a person reads it. */
function answerWords(clash: Clash, value: unknown, defect: Defect): string {
  if (clash.field === "deleted") return t(value ? "clash_is_deleted" : "clash_stays");
  if (value === null || value === undefined || value === "") return t("not_recorded");
  if (clash.field === "kind") return kindName(String(value));
  if (clash.field === "cause") return vocabularyWord("causes", String(value));
  if (clash.field === "signs") return new Intl.ListFormat(language(), { type: "unit" }).format((value as string[]).map((id) => vocabularyWord("signs", id)));
  if (clash.field === "mark") return markWords(value as Mark, defect);
  if (clash.field === "elevation_id") return row("elevation", String(value))?.name ?? t("not_recorded");
  return String(value);
}

function OneClash({ clash, defect }: { clash: Clash; defect: Defect }) {
  return (
    <Card title={t("clash_title", { field: t(FIELD_WORDS[clash.field] ?? "clash_other") })} tone="caution" help="clash">
      <p>{t("clash_say")}</p>
      <ClashAnswers clash={clash} words={(value) => answerWords(clash, value, defect)} spoken={(answer) => t("clash_take_this", { answer })} />
    </Card>
  );
}

export function Clashes({ defect }: { defect: Defect }) {
  return <>{clashesOf(defect.id).map((clash) => <OneClash key={clash.id} clash={clash} defect={defect} />)}</>;
}
