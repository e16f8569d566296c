/** What a repair takes: each material as one measures it out, with mass, volume, the range, and what to order. */
import { nameOf } from "../../model/catalogue";
import type { Catalogue, Material } from "../../model/catalogue";
import type { MaterialNeed } from "../../model/materials/job";
import type { Repair } from "../../model/repair/repair";
import { catalogue } from "../../store";
import { language, t } from "../../words";
import { showMass, showVolume } from "../../words/measures";
import { bigAmount, besideAmount, bucketL, money, orderWords, rangeWords, unitAmount } from "./amountWords";
import { BasisMark } from "./Basis";
import { RangeBar } from "./RangeBar";

/** Binders and sands first, water and small additions last: the order they go into the mixer by the eye. */
function sorted(materials: Record<string, MaterialNeed>, book: Catalogue): [string, MaterialNeed, Material][] {
  const rank = (id: string, material: Material) => (id === "water" ? 2 : material.small ? 3 : material.unit === "kg" ? 1 : 4);
  const rows = Object.entries(materials).flatMap(([id, need]): [string, MaterialNeed, Material][] => {
    const material = book.materials[id];
    return material && need.amount.high > 0 ? [[id, need, material]] : [];
  });
  return rows.sort((a, b) => rank(a[0], a[2]) - rank(b[0], b[2]) || a[1].amount.likely - b[1].amount.likely);
}

type RowProps = { id: string; need: MaterialNeed; material: Material; repair: Repair; book: Catalogue; past: boolean | undefined };

function Row({ id, need, material, repair, book, past }: RowProps) {
  const bought = repair.purchases[id];
  const order = bought && !past ? orderWords(id, material, bought) : "";
  const big = bigAmount(material, need.amount.likely, need.l?.likely ?? null);
  return (
    <tr>
      <th scope="row">
        {id === "water" ? t("material_water") : nameOf(book, "materials", id, language())} <BasisMark basis={material.basis} />
        {order ? <small class="order">{order}</small> : null}
      </th>
      <td class="num">
        <strong class="big">{big}</strong>
        <small>{besideAmount(material, need)}</small>
        <RangeBar range={need.amount} />
        <small>{rangeWords(need.amount, (value) => unitAmount(material, value))}</small>
      </td>
    </tr>
  );
}

/** `past`: the work is done, so there is nothing to order and nothing to carry. */
export function MaterialTable({ repair, past }: { repair: Repair; past?: boolean | undefined }) {
  const book = catalogue.value;
  if (!book) return null;
  const rows = sorted(repair.materials, book);
  const price = rows.reduce((sum, [id]) => sum + (repair.purchases[id]?.price ?? 0), 0);
  const carry = rows.reduce((sum, [id]) => sum + (id === "water" ? 0 : (repair.purchases[id]?.carry_kg ?? 0)), 0);
  if (rows.length === 0) return <p>{t("materials_none")}</p>;
  return (
    <>
      <table class="materials">
        <thead><tr><th scope="col">{t("materials_head")}</th><th scope="col" class="num">{t("materials_amount")}</th></tr></thead>
        <tbody>{rows.map(([id, need, material]) => <Row key={id} id={id} need={need} material={material} repair={repair} book={book} past={past} />)}</tbody>
      </table>
      <p class="hint">
        {t("materials_bucket", { volume: showVolume(bucketL()) })}{" "}
        {carry > 0 && !past ? t("materials_carry", { mass: showMass(carry) }) : ""} {price > 0 && !past ? t("materials_price", { price: money(price) }) : ""}
      </p>
    </>
  );
}
