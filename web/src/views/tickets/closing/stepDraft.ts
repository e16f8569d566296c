/** What is being said with a step: its note, photos, answers and amounts, kept as a draft until the step is. */
import type { CheckAnswer, Id, Photo, StepKind, Ticket, Used } from "../../../model/types";
import { type KeptPhoto, drafts, flushDrafts, newId, nowIso, photoRow, putMany } from "../../../store";
import { photosOf } from "../../../store/lookup";
import { useDraft } from "../../../parts/draft";
import { go, goBack } from "../../../parts/frame/route";
import { vocabularyWord } from "../../../words/vocabulary";
import { ticketName } from "../../../parts/ticket/gathered";
import { throwAway } from "../../../parts/undo/undo";

export type StepDraft = {
  note: string;
  /** Kilograms, litres, square metres or pieces by material. */
  used: Record<string, number>;
  batches: number | null;
  thickness_mm: number | null;
  answers: Record<string, CheckAnswer>;
  own_work: boolean;
  /** Photos taken through the earlier one, by hash. */
  same_place: Record<string, Id>;
};
const BLANK: StepDraft = { note: "", used: {}, batches: null, thickness_mm: null, answers: {}, own_work: false, same_place: {} };

export type StepForm = {
  draftKey: string; draft: StepDraft; photos: readonly KeptPhoto[]; change: (part: Partial<StepDraft>) => void;
  keep: (kind: StepKind, more: { used: Used | null; area_m2: number | null; storm_id: Id | null }) => Promise<void>; leave: () => Promise<void>;
};

/** The photo to stand in the same place as: the first of the first defect that has one. */
export function earlierPhoto(ticket: Ticket): Photo | null {
  return ticket.defect_ids.flatMap((id) => photosOf(id)).at(0) ?? null;
}

export function useStepForm(ticket: Ticket, first: StepKind): StepForm {
  const draftKey = `ticket/${ticket.id}?step=${first}`;
  const [kept, change] = useDraft<StepDraft>(draftKey, () => BLANK);
  // A draft from before these fields came has only its note.
  const draft = { ...BLANK, ...kept };
  const photos = drafts.value.get(draftKey)?.photos ?? [];
  const keep: StepForm["keep"] = async (kind, more) => {
    const id = newId();
    await flushDrafts();
    const { note, batches, thickness_mm, answers, own_work } = draft;
    const looked = kind !== "done" && Object.keys(answers).length > 0;
    const set = {
      ticket_id: ticket.id, kind, at: nowIso(), note: note.trim() || null, ...more, batches: kind === "done" ? batches : null,
      thickness_mm: kind === "done" ? thickness_mm : null, checks: looked ? answers : null, own_work: kind === "checked" && own_work ? true : null,
    };
    const rows = photos.map((photo) => photoRow("step", id, photo, draft.same_place[photo.sha256] ?? null));
    await putMany([{ type: "step", id, set }, ...rows], { draft: draftKey });
    go(`/ticket/${ticket.id}`, true);
  };
  const leave = async () => {
    await throwAway(draftKey, `${ticketName(ticket)} · ${vocabularyWord("steps", first, "do")}`, () => goBack(`/ticket/${ticket.id}`));
  };
  return { draftKey, draft, photos, change, keep, leave };
}
