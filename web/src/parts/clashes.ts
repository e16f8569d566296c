/** Two answers to one question: which are still open, and how one of them is taken. */
import type { Clash } from "../model/types";
import { type Change, bringBack, putMany, table } from "../store";
import { t } from "../words";
import { offerUndo } from "./undo/undo";

/** Clashes nobody has decided yet, on anything but a defect, whose page shows its own. */
export function openClashes(): Clash[] {
  return [...table("clash").value.values()].filter((one) => one.chosen === null && one.of_type !== "defect");
}

/** The changes that give the field this answer. */
function answered({ of_type: type, of_id: id, field }: Clash, value: unknown): unknown[] {
  return field === "deleted" ? [{ type, id, drop: true }] : [{ type, id, set: { [field]: value } }];
}

/** Both rows in one transaction: the choice, and the answer itself where it was the other one. */
export async function chooseAnswer(clash: Clash, chosen: "kept" | "lost", answer: string): Promise<void> {
  const changes: unknown[] = [{ type: "clash", id: clash.id, set: { chosen } }];
  if (chosen === "lost") changes.push(...answered(clash, clash.lost));
  // The server names the row; its type cannot be known when this is compiled.
  await putMany(changes as Change[]);
  offerUndo({ say: t("undo_chosen", { answer }), back: () => askAgain(clash, chosen) });
}

/** The question is open again, and what stood before stands. */
async function askAgain(clash: Clash, chosen: "kept" | "lost"): Promise<void> {
  const { of_type: type, of_id: id, field } = clash;
  const gone = chosen === "lost" && field === "deleted";
  if (gone) await bringBack([{ type, id }] as Parameters<typeof bringBack>[0]);
  const changes: unknown[] = [{ type: "clash", id: clash.id, set: { chosen: null } }];
  if (chosen === "lost" && !gone) changes.push(...answered(clash, clash.kept));
  await putMany(changes as Change[]);
}
