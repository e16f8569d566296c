/** Changing the choices of a ticket: only what was changed is sent, so that other people's changes stand. */
import { useId, useState } from "preact/hooks";
import type { Ticket } from "../../../model/types";
import { flushDrafts, putMany, role } from "../../../store";
import { t } from "../../../words";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { Page } from "../../../parts/frame/Page";
import { go, goBack } from "../../../parts/frame/route";
import { leadToWrong } from "../../../parts/frame/wrong";
import { knownOf, ticketName } from "../../../parts/ticket/gathered";
import { ChosenDefects, DefectChoice } from "./DefectChoice";
import { PlanForm } from "./PlanForm";
import { mayEdit } from "../may";
import { changedFields, planOf, planWrong, usePlan } from "./plan";
import { LeaveButton } from "../../../parts/undo/LeaveButton";
import { throwAway } from "../../../parts/undo/undo";

export function EditTicket({ ticket }: { ticket: Ticket }) {
  const back = `/ticket/${ticket.id}`;
  const draftKey = `${back.slice(1)}?edit=1`;
  const planned = usePlan(draftKey, planOf(ticket), ticket.rev);
  const { plan, change } = planned;
  const [choosing, setChoosing] = useState(false);
  const none = plan.defect_ids.length === 0;
  const noneId = useId();
  const known = knownOf(plan.defect_ids);
  const leave = async () => {
    await throwAway(draftKey, t("undo_changes_of", { name: ticketName(ticket) }), () => goBack(back));
  };
  const keep = async () => {
    if ((await leadToWrong()) || planWrong(plan) || none) return;
    await flushDrafts();
    await putMany([{ type: "ticket", id: ticket.id, set: changedFields(planned, known), seen: planned.seen }], { draft: draftKey });
    go(back, true);
  };
  if (!mayEdit(role.value)) return <Page title={ticketName(ticket)} place="tickets" back={back}><p>{t("ticket_not_yours")}</p></Page>;
  const actions = <><LeaveButton draftKey={draftKey} changes onPress={leave} /><Button kind="primary" onPress={() => void keep()}>{t("keep")}</Button></>;
  return (
    <Page title={t("ticket_change")} sub={ticketName(ticket)} place="tickets" back={back} actions={actions}>
      <Card title={t("defects_title")}>
        {choosing ? <DefectChoice chosen={plan.defect_ids} onChoose={(defect_ids) => change({ defect_ids })} /> : <ChosenDefects ids={plan.defect_ids} />}
        {none ? <p class="wrong" id={noneId} role="alert">{t("choice_at_least")}</p> : null}
        <Button describedBy={none ? noneId : undefined} wrong={none} onPress={() => setChoosing(!choosing)}>{t(choosing ? "choice_done" : "choice_change")}</Button>
      </Card>
      <PlanForm plan={plan} known={known} onChange={change} />
    </Page>
  );
}
