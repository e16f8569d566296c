/** Keeping what was marked or read: all rows of it in one transaction, and the draft gone with them. */
import { signal } from "@preact/signals";
import { sizeOfMark } from "../../model/defect";
import { type MarkDraft, defectFields, markOfDrawn, measuredOn } from "../../model/marking/marking";
import type { ReadingDraft } from "../../model/marking/reading";
import { readingFields } from "../../model/marking/reading";
import type { Elevation, Id, Reading } from "../../model/types";
import { withHeadings } from "../../parts/photo/PhotoStrip";
import { type Change, drafts, newId, nowIso, photoRow, putMany, row, settings } from "../../store";

/** What was kept last, for the screen one comes back to. */
export const lastKept = signal<{ defect: Id; new: boolean } | null>(null);

/** The survey that is being walked, if it is one of this site. */
const survey = (): Id | null => row("survey", settings.value.currentSurvey)?.id ?? null;

function photosFor(key: string, defect: Id, headings: Record<string, number>, samePlace: Record<string, Id> = {}): Change[] {
  return withHeadings(drafts.peek().get(key)?.photos ?? [], headings).map((photo) => photoRow("defect", defect, photo, samePlace[photo.sha256] ?? null));
}

/** Keep a mark: a new defect with its first reading, or the changes to one; resolves with the defect's id. */
export async function keepMark(key: string, draft: MarkDraft, elevation: Elevation): Promise<Id> {
  const mark = markOfDrawn(draft);
  if (!mark) throw new Error("a mark without a point is not kept");
  const id = draft.defect_id ?? newId();
  const seen = draft.seen === null ? {} : { seen: draft.seen };
  const changes: Change[] = [{ type: "defect", id, set: defectFields(draft, mark), ...seen }];
  if (!draft.defect_id) {
    const measures = measuredOn(draft, sizeOfMark(mark, elevation));
    changes.push({ type: "reading", id: newId(), set: { ...measures, defect_id: id, survey_id: survey(), at: nowIso(), state: "new" } });
  }
  await putMany([...changes, ...photosFor(key, id, draft.headings)], { draft: key });
  lastKept.value = { defect: id, new: !draft.defect_id };
  return id;
}

export async function keepReading(key: string, defect: Id, draft: ReadingDraft, before: readonly Reading[], elevation: Elevation): Promise<void> {
  const set = { ...readingFields(draft, before, elevation), defect_id: defect, survey_id: survey(), at: nowIso() };
  await putMany([{ type: "reading", id: newId(), set }, ...photosFor(key, defect, draft.headings, draft.same_place)], { draft: key });
  lastKept.value = { defect, new: false };
}
