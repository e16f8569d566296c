/** Two answers to one question on anything but a defect, whose page shows its own: both kept, a person picks. */
import type { Clash, RowType } from "../../model/types";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { may } from "../../parts/may";
import { openClashes } from "../../parts/clashes";
import { type Change, putMany, row } from "../../store";
import { isSentence, t } from "../../words";

function whatWords(clash: Clash): string {
  const key = `row_${clash.of_type}`;
  const type = isSentence(key) ? t(key) : clash.of_type;
  const named = row(clash.of_type as RowType, clash.of_id) as { name?: string } | undefined;
  return [type, named?.name].filter(Boolean).join(" · ");
}

function fieldWords(field: string): string {
  const key = `field_${field}`;
  return isSentence(key) ? t(key) : t("field_other");
}

/** An answer as a person reads it; a drawing or a list is said to be one, its page shows it. */
function answerWords(clash: Clash, value: unknown): string {
  if (clash.field === "deleted") return t(value ? "clash_removed" : "clash_stays");
  if (value === null || value === undefined || value === "") return t("not_recorded");
  return typeof value === "object" ? t("clash_drawn") : String(value);
}

/** Both rows in one transaction: the choice, and the answer itself where it was the other one. */
function choose(clash: Clash, chosen: "kept" | "lost"): Promise<unknown> {
  const changes: unknown[] = [{ type: "clash", id: clash.id, set: { chosen } }];
  if (chosen === "lost" && clash.field === "deleted") changes.push({ type: clash.of_type, id: clash.of_id, drop: true });
  else if (chosen === "lost") changes.push({ type: clash.of_type, id: clash.of_id, set: { [clash.field]: clash.lost } });
  return putMany(changes as Change[]);
}

function OneClash({ clash }: { clash: Clash }) {
  const what = `${whatWords(clash)}, ${fieldWords(clash.field)}`;
  const answers = [["kept", clash.kept, clash.kept_by], ["lost", clash.lost, clash.lost_by]] as const;
  return (
    <li>
      <p><strong>{what}</strong></p>
      {answers.map(([which, value, by]) => (
        <div key={which}>
          <p>{answerWords(clash, value)}<br /><small>{t(which === "kept" ? "clash_stands" : "clash_other_answer", { by })}</small></p>
          {may("edit", "clash") ? (
            <Button label={`${what}: ${t("clash_take_this", { answer: `${answerWords(clash, value)}, ${by}` })}`} onPress={() => void choose(clash, which)}>{t("clash_take")}</Button>
          ) : null}
        </div>
      ))}
    </li>
  );
}

export function ClashList() {
  return (
    <Card title={t("clash_list")} tone="caution">
      <p>{t("clash_say")}</p>
      <ul class="rows">{openClashes().map((clash) => <OneClash key={clash.id} clash={clash} />)}</ul>
    </Card>
  );
}
