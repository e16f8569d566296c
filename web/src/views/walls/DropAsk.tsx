/** The question before something is deleted, and who may not change what they see. */
import type { Id, RowType } from "../../model/types";
import { type RowKey, putMany } from "../../store";
import { defectsOf, elevationsOf, finishesOf } from "../../store/lookup";
import { SureButton } from "../../parts/frame/SureButton";
import { go } from "../../parts/frame/route";
import { may } from "../../parts/may";
import { offerRows } from "../../parts/undo/undo";
import { t } from "../../words";

/** The row with everything that stands on it, what stands below first. */
function withChildren(type: RowType, id: Id): RowKey[] {
  const own: RowKey = { type, id };
  if (type === "structure") return [own, ...elevationsOf(id).flatMap((side) => withChildren("elevation", side.id))];
  if (type !== "elevation") return [own];
  const defects = defectsOf(id).map((one): RowKey => ({ type: "defect", id: one.id }));
  return [own, ...finishesOf(id).map((one): RowKey => ({ type: "finish", id: one.id })), ...defects];
}

type Props = { type: RowType; id: Id; name: string; title: string; say: string; to: string };

export function DropAsk({ type, id, name, title, say, to }: Props) {
  if (!may("drop", type)) return null;
  const drop = async () => {
    const rows = withChildren(type, id);
    // What stands on top goes first; one transaction, so that nothing is left hanging.
    await putMany([...rows].reverse().map((one) => ({ ...one, drop: true as const })));
    go(to, true);
    offerRows(name, rows);
  };
  return <SureButton label={t("delete")} title={title} say={say} yes={t("delete_it")} onYes={drop} />;
}

export function NotAllowed() {
  return <p class="card card-caution">{t("form_not_allowed")}</p>;
}
