/** From the plan to the lists people take along: one each, or one for all. Made again, a list takes the new order. */
import { listForAll, listsOf } from "../../../model/planning/lists";
import type { Handout, Id, WorkDay } from "../../../model/types";
import { newId, putMany, settings, table } from "../../../store";
import { t } from "../../../words";
import { Ask } from "../../../parts/frame/Ask";
import { Button } from "../../../parts/frame/Button";
import { Card, Empty } from "../../../parts/frame/Card";
import { go } from "../../../parts/frame/route";
import { leadToWrong } from "../../../parts/frame/wrong";
import { may } from "../../../parts/may";
import { HandoutRow } from "../list/HandoutRow";
import type { DayDraft } from "./draft";
import type { Planned } from "./planning";

type List = { person: string; ticket_ids: Id[] };

export const handoutsOf = (day: Id): Handout[] =>
  [...table("handout").value.values()].filter((one) => one.work_day_id === day).sort((a, b) => (a.person ?? "").localeCompare(b.person ?? ""));

/** A list that is there for the same person and still runs is changed, not doubled. */
async function make(day: Id, on: string, lists: readonly List[]): Promise<void> {
  const running = handoutsOf(day).filter((one) => one.ended_on === null);
  await putMany(lists.map(({ person, ticket_ids }) => {
    const name = person.trim() || null;
    const before = running.find((one) => one.person === name);
    if (before) return { type: "handout" as const, id: before.id, set: { ticket_ids, on } };
    return { type: "handout" as const, id: newId(), set: { work_day_id: day, person: name, on, ticket_ids, language: settings.value.language, show_place: false } };
  }));
}

/** Whether anything of a plan can be handed out. */
export const canHandOut = ({ plan }: Planned): boolean => may("make", "handout") && listForAll(plan).length > 0;

type Props = { day: WorkDay | null; planned: Planned; draft: DayDraft; keep: () => Promise<Id>; changed: boolean; asking: boolean; setAsking: (on: boolean) => void };

export function HandoutsCard({ day, planned, draft, keep, changed, asking, setAsking }: Props) {
  const each = listsOf(planned.plan, draft.crew);
  const unmeasured = planned.plan.left_out.filter((one) => one.code === "no_size").length;
  const made = day ? handoutsOf(day.id) : [];
  const deal = async (lists: readonly List[]) => {
    setAsking(false);
    const id = day && !changed ? day.id : await keep();
    await make(id, draft.on, lists);
    go(`/workday/${id}`, true);
  };
  if (!may("make", "handout")) return null;
  return (
    <Card title={t("handouts_title")}>
      {made.length > 0 ? <ul class="rows">{made.map((one) => <HandoutRow key={one.id} handout={one} />)}</ul> : <Empty small scene="list">{t("handouts_none_yet")}</Empty>}
      <div class="deeds handouts-make"><Button disabled={!canHandOut(planned)} onPress={() => void leadToWrong().then((wrong) => setAsking(!wrong))}>{t(made.length > 0 ? "handouts_again" : "handouts_make")}</Button></div>
      {asking ? (
        <Ask title={t("handouts_ask")} onClose={() => setAsking(false)}>
          <p>{t(made.length > 0 ? "handouts_again_say" : "handouts_say")}</p>
          {unmeasured > 0 ? <p>{t("handouts_unmeasured", { n: unmeasured })}</p> : null}
          <div class="deeds">
            {each.length > 0 ? <Button kind="primary" onPress={() => void deal(each)}>{t("handouts_each", { n: each.length })}</Button> : null}
            <Button onPress={() => void deal([{ person: t("handouts_everybody"), ticket_ids: listForAll(planned.plan) }])}>{t("handouts_one")}</Button>
            <Button onPress={() => setAsking(false)}>{t("cancel")}</Button>
          </div>
        </Ask>
      ) : null}
    </Card>
  );
}
