/** Opening a ticket: first which defects, then method, urgency and amounts with the estimate below. */
import { useState } from "preact/hooks";
import type { Id } from "../../../model/types";
import { flushDrafts, newId, putMany, whole } from "../../../store";
import { t } from "../../../words";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { Page } from "../../../parts/frame/Page";
import { type Params, go, goBack } from "../../../parts/frame/route";
import { leadToWrong } from "../../../parts/frame/wrong";
import { knownOf } from "../../../parts/ticket/gathered";
import { ChosenDefects, DefectChoice } from "./DefectChoice";
import { PlanForm } from "./PlanForm";
import { openEach } from "./each";
import { EMPTY, fieldsOf, planWrong, usePlan } from "./plan";
import { LeaveButton } from "../../../parts/undo/LeaveButton";
import { throwAway } from "../../../parts/undo/undo";
import "../tickets.css";

const KEY = "ticket/new";

function idsFrom(params: Params): Id[] {
  return (params.defects ?? "").split(",").filter(Boolean);
}

export function TicketForm({ params }: { params: Params }) {
  const { plan, change } = usePlan(KEY, { ...EMPTY, defect_ids: idsFrom(params) });
  const [choosing, setChoosing] = useState(plan.defect_ids.length === 0);
  const known = knownOf(plan.defect_ids);
  // An address may name defects that are not (or no more) on this phone.
  const defect_ids = known.map((one) => one.defect.id);
  const choose = (ids: Id[]) => {
    setChoosing(true);
    change({ defect_ids: ids });
  };
  const leave = async () => {
    await throwAway(KEY, t("ticket_new"), () => goBack("/tickets"));
  };
  const keep = async () => {
    if ((await leadToWrong()) || planWrong(plan)) return;
    const id = newId();
    await flushDrafts();
    await putMany([{ type: "ticket", id, set: { ...fieldsOf(plan, known), defect_ids } }], { draft: KEY });
    go(`/ticket/${id}`, true);
  };
  const n = defect_ids.length;
  if (!whole.value) return <Page title={t("ticket_new")} place="tickets" back="/tickets"><p>{t("loading")}</p></Page>;
  if (choosing || n === 0) {
    const next = (
      <>
        <LeaveButton draftKey={KEY} onPress={leave} />
        {n > 1 ? <Button onPress={() => void openEach(defect_ids, KEY)}>{t("choice_each")}</Button> : null}
        <Button kind="primary" disabled={n === 0} onPress={() => setChoosing(false)}>{n === 0 ? t("choice_at_least") : n > 1 ? t("choice_together", { n }) : t("choice_next")}</Button>
      </>
    );
    return (
      <Page title={t("choice_title")} sub={t("choice_sub")} place="tickets" back="/tickets" actions={next}>
        <DefectChoice chosen={defect_ids} onChoose={choose} />
      </Page>
    );
  }
  const actions = <><LeaveButton draftKey={KEY} onPress={leave} /><Button kind="primary" onPress={() => void keep()}>{t("ticket_keep")}</Button></>;
  return (
    <Page title={t("ticket_new")} sub={t("ticket_new_sub")} place="tickets" back="/tickets" actions={actions}>
      <Card title={t("defects_title")}>
        <ChosenDefects ids={defect_ids} />
        <Button onPress={() => setChoosing(true)}>{t("choice_change")}</Button>
      </Card>
      <PlanForm plan={plan} known={known} onChange={change} />
    </Page>
  );
}
