/** How sure a measured size is goes into the note, where whoever reads the record finds it. */
import { anchorOf } from "../../model/drawing/plan";
import type { OnPhoto } from "../../model/measuring/draft";
import type { Mark, WallPoint } from "../../model/types";

/** The note with the new sentence in the place of the one from the measuring before. */
export function noted({ note }: { note: string }, asked: OnPhoto, words: string): { note: string; on_photo: OnPhoto } {
  const old = asked.noted ?? null;
  const rest = old && note.includes(old) ? note.replace(old, "").trim() : note.trim();
  return { note: rest === "" ? words : `${rest}\n${words}`, on_photo: { ...asked, noted: words } };
}

/** Where the middle of a mark lies, as the place of what is measured anew. */
export function middleOf(mark: Mark): WallPoint {
  const { x, y } = anchorOf(mark.points_m, mark.shape);
  return [x, y];
}
