/** The question before something is deleted, and who may not change what they see. */
import type { Id, RowType } from "../../model/types";
import { type Drop, putMany } from "../../store";
import { defectsOf, elevationsOf, finishesOf } from "../../store/lookup";
import { SureButton } from "../../parts/frame/SureButton";
import { go } from "../../parts/frame/route";
import { may } from "../../parts/may";
import { t } from "../../words";

/** The row with everything that stands on it, what stands on top first; one transaction, so that nothing is left hanging. */
function withChildren(type: RowType, id: Id): Drop[] {
  const own: Drop = { type, id, drop: true };
  if (type === "structure") return [...elevationsOf(id).flatMap((side) => withChildren("elevation", side.id)), own];
  if (type !== "elevation") return [own];
  const defects = defectsOf(id).map((one): Drop => ({ type: "defect", id: one.id, drop: true }));
  return [...defects, ...finishesOf(id).map((one): Drop => ({ type: "finish", id: one.id, drop: true })), own];
}

type Props = { type: RowType; id: Id; title: string; say: string; to: string };

export function DropAsk({ type, id, title, say, to }: Props) {
  if (!may("drop", type)) return null;
  const drop = () => putMany(withChildren(type, id)).then(() => go(to, true));
  return <SureButton label={t("structure_drop")} title={title} say={say} yes={t("structure_drop_yes")} onYes={drop} />;
}

export function NotAllowed() {
  return <p class="card card-caution">{t("form_not_allowed")}</p>;
}
