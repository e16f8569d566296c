/** Keeping a plan: only what changed is sent, and the draft goes with it. */
import type { Id, WorkDay } from "../../../model/types";
import { changesOf, flushDrafts, newId, putMany } from "../../../store";
import { may } from "../../../parts/may";
import { type DayDraft, draftKey, fieldsOf } from "./draft";

export function useKeeping(day: WorkDay | null, draft: DayDraft) {
  const mayKeep = may(day ? "edit" : "make", "work_day");
  const fields = fieldsOf(draft);
  const set = day ? changesOf(day, fields) : fields;
  const changed = Object.keys(set).length > 0;
  const keep = async (): Promise<Id> => {
    const id = day?.id ?? newId();
    await flushDrafts();
    await putMany([{ type: "work_day", id, set }], { draft: draftKey(day?.id ?? null) });
    return id;
  };
  return { mayKeep, changed, keep };
}
