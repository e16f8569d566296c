/** Two answers to one question, given without knowing of each other: both shown in words, a person picks. */
import type { Clash, Defect, Mark } from "../../../model/types";
import { sizeOfMark } from "../../../model/defect";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { may } from "../../../parts/may";
import { type Change, putMany, row } from "../../../store";
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
  if (clash.field === "deleted") return t(value ? "clash_removed" : "clash_stays");
  if (value === null || value === undefined || value === "") return t("not_recorded");
  if (clash.field === "kind") return kindName(String(value));
  if (clash.field === "cause") return vocabularyWord("causes", String(value));
  if (clash.field === "signs") return new Intl.ListFormat(language(), { type: "unit" }).format((value as string[]).map((id) => vocabularyWord("signs", id)));
  if (clash.field === "mark") return markWords(value as Mark, defect);
  if (clash.field === "elevation_id") return row("elevation", String(value))?.name ?? t("not_recorded");
  return String(value);
}

/** Both rows in one transaction: the choice, and the answer itself where it was the other one. */
function choose(clash: Clash, chosen: "kept" | "lost", defect: Defect): Promise<unknown> {
  const changes: Change[] = [{ type: "clash", id: clash.id, set: { chosen } }];
  if (chosen === "lost" && clash.field === "deleted") changes.push({ type: "defect", id: defect.id, drop: true });
  else if (chosen === "lost") changes.push({ type: "defect", id: defect.id, set: { [clash.field]: clash.lost } });
  return putMany(changes);
}

function OneClash({ clash, defect }: { clash: Clash; defect: Defect }) {
  const answers = [["kept", clash.kept, clash.kept_by], ["lost", clash.lost, clash.lost_by]] as const;
  return (
    <Card title={t("clash_title", { field: t(FIELD_WORDS[clash.field] ?? "clash_other") })} tone="caution">
      <p>{t("clash_say")}</p>
      {answers.map(([which, value, by]) => (
        <div key={which} class="clash-answer">
          <p><strong>{answerWords(clash, value, defect)}</strong><br /><small>{t(which === "kept" ? "clash_stands" : "clash_other_answer", { by })}</small></p>
          {may("edit", "clash") ? <Button onPress={() => void choose(clash, which, defect)} label={t("clash_take_this", { answer: answerWords(clash, value, defect) })}>{t("clash_take")}</Button> : null}
        </div>
      ))}
    </Card>
  );
}

export function Clashes({ defect }: { defect: Defect }) {
  return <>{clashesOf(defect.id).map((clash) => <OneClash key={clash.id} clash={clash} defect={defect} />)}</>;
}
