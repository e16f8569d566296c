/** The photos one may measure on: those taken with the draft, and those the defect has already. */
import type { Id } from "../../model/types";
import { drafts, keptUrl, photoUrl } from "../../store";
import { photosOf } from "../../store/lookup";
import type { Choice } from "./desk";

export function choicesOf(draftKey: string, defect: Id | null): Choice[] {
  const taken = (drafts.value.get(draftKey)?.photos ?? []).map((photo): Choice => ({
    photo, small: () => keptUrl(photo.sha256, photo.media_type, "400"), large: () => keptUrl(photo.sha256, photo.media_type, "1600"),
  }));
  const kept = (defect ? photosOf(defect) : []).map((photo): Choice => ({
    photo, small: () => photoUrl(photo.id, "400"), large: async () => (await photoUrl(photo.id, "1600")) ?? photoUrl(photo.id, "400"),
  }));
  return [...taken, ...[...kept].reverse()];
}
