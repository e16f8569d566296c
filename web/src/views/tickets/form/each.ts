/** A ticket for each of several defects at once, each as it is suggested; to be changed one by one where need be. */
import type { Id } from "../../../model/types";
import { type Change, flushDrafts, newId, putMany } from "../../../store";
import { t } from "../../../words";
import { go } from "../../../parts/frame/route";
import { may } from "../../../parts/may";
import { knownOf } from "../../../parts/ticket/gathered";
import { offerUndo } from "../../../parts/undo/undo";
import { EMPTY, fieldsOf } from "./plan";

/** The change that opens a ticket for one defect, method as suggested. */
function openOne(defect: Id): Change {
  return { type: "ticket", id: newId(), set: fieldsOf({ ...EMPTY, defect_ids: [defect] }, knownOf([defect])) };
}

/** All of them or none; the draft `key` they were chosen in ends with it. Whoever may delete tickets is offered to take them back. */
export async function openEach(defects: readonly Id[], key: string): Promise<void> {
  const opened = defects.map(openOne);
  await flushDrafts();
  await putMany(opened, { draft: key });
  go("/tickets", true);
  const back = () => putMany(opened.map(({ id }) => ({ type: "ticket", id, drop: true }) as Change));
  if (may("drop", "ticket")) offerUndo({ say: t("choice_opened", { n: opened.length }), back });
}
