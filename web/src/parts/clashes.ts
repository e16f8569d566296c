/** Two answers to one question: which are still open, and how one of them is taken. */
import type { Clash } from "../model/types";
import { type Change, putMany, table } from "../store";

/** Clashes nobody has decided yet, on anything but a defect, whose page shows its own. */
export function openClashes(): Clash[] {
  return [...table("clash").value.values()].filter((one) => one.chosen === null && one.of_type !== "defect");
}

/** Both rows in one transaction: the choice, and the answer itself where it was the other one. */
export function chooseAnswer(clash: Clash, chosen: "kept" | "lost"): Promise<unknown> {
  const { of_type: type, of_id: id, field } = clash;
  const changes: unknown[] = [{ type: "clash", id: clash.id, set: { chosen } }];
  if (chosen === "lost" && field === "deleted") changes.push({ type, id, drop: true });
  else if (chosen === "lost") changes.push({ type, id, set: { [field]: clash.lost } });
  // The server names the row; its type cannot be known when this is compiled.
  return putMany(changes as Change[]);
}
