/** The points of the second look, as big answers, and what still keeps the ticket from being closed. */
import { type Lack, type Look, type Point, isOwnWork } from "../../../model/closing/closing";
import type { CheckAnswer } from "../../../model/types";
import { catalogue } from "../../../store";
import { t } from "../../../words";
import { showDate } from "../../../words/measures";
import { vocabularyWord } from "../../../words/vocabulary";
import { Card } from "../../../parts/frame/Card";
import { Pick, Toggle } from "../../../parts/frame/Field";
import type { StepDraft } from "./stepDraft";

/** The list of what still keeps the ticket from being closed. */
export const LACKS = "step-lacks";

type Change = (part: Partial<StepDraft>) => void;

export function checkPoints(): readonly Point[] {
  return (catalogue.value?.vocabulary as { checks?: Point[] } | undefined)?.checks ?? [];
}

export function LookCard({ points, draft, change }: { points: readonly string[]; draft: StepDraft; change: Change }) {
  const answer = (point: string, value: CheckAnswer) => change({ answers: { ...draft.answers, [point]: value } });
  return (
    <Card title={t("look_title")}>
      <p class="hint">{t("look_why")}</p>
      {points.map((point) => (
        <Pick
          key={point} legend={vocabularyWord("checks", point)} value={draft.answers[point] ?? null} onPick={(value) => answer(point, value)} columns={3}
          options={[{ id: "ok", label: t("look_ok") }, { id: "not_ok", label: t("look_not_ok") }, { id: "not_looked", label: t("look_not_looked") }]}
        />
      ))}
    </Card>
  );
}

/** Said before anything is answered, since nothing on this screen can change it. */
export function StillCures({ look }: { look: Look }) {
  return <Card tone="caution"><p>{t("look_cures", { date: look.cured_on ? showDate(look.cured_on) : "" })}</p></Card>;
}

export function OwnWork({ look, change }: { look: Look; change: Change }) {
  if (!isOwnWork(look)) return null;
  return (
    <Card tone="caution">
      <p>{t("look_own")}</p>
      {look.may_own_work ? <Toggle label={t("look_own_keeper")} hint={t("look_own_hint")} on={look.own_work} onChange={(own_work) => change({ own_work })} /> : null}
    </Card>
  );
}

export function Lacks({ look, lacks }: { look: Look; lacks: readonly Lack[] }) {
  if (lacks.length === 0) return null;
  return (
    <Card tone="caution">
      <p><strong>{t("look_lacks")}</strong></p>
      <ul class="reasons" id={LACKS}>
        {lacks.map((one) => <li key={one}>{t(`lack_${one}`, { person: look.done_by ?? "", date: look.cured_on ? showDate(look.cured_on) : "" })}</li>)}
      </ul>
    </Card>
  );
}
