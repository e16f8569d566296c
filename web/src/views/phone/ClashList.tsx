/** Two answers to one question on anything but a defect, whose page shows its own: both kept, a person picks. */
import type { Clash, RowType } from "../../model/types";
import { ClashAnswers } from "../../parts/ClashAnswers";
import { Card } from "../../parts/frame/Card";
import { openClashes } from "../../parts/clashes";
import { row } from "../../store";
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
  if (clash.field === "deleted") return t(value ? "clash_is_deleted" : "clash_stays");
  if (value === null || value === undefined || value === "") return t("not_recorded");
  return typeof value === "object" ? t("clash_drawn") : String(value);
}

function OneClash({ clash }: { clash: Clash }) {
  const what = `${whatWords(clash)}, ${fieldWords(clash.field)}`;
  return (
    <li>
      <p><strong>{what}</strong></p>
      <ClashAnswers clash={clash} words={(value) => answerWords(clash, value)} spoken={(answer, by) => `${what}: ${t("clash_take_this", { answer: `${answer}, ${by}` })}`} />
    </li>
  );
}

export function ClashList() {
  return (
    <Card title={t("clash_list")} tone="caution" help="clash">
      <p>{t("clash_say")}</p>
      <ul class="rows">{openClashes().map((clash) => <OneClash key={clash.id} clash={clash} />)}</ul>
    </Card>
  );
}
