/** The bags the site can buy: how heavy, and what one costs. What is left empty is taken as the trade usually packs it. */
import { type Material, nameOf } from "../../../model/catalogue";
import type { Site } from "../../../model/types";
import { NumberField } from "../../../parts/frame/Field";
import { catalogue } from "../../../store";
import { language, t } from "../../../words";
import { kilosFromTyped, massUnit, showMass, showNumber, typedFromKilos } from "../../../words/measures";

export type Bags = NonNullable<Site["bags"]>;
export const LIGHTEST_KG = 0.05;
export const HEAVIEST_KG = 2000;

/** What is wrong with a bag, in words. */
export function wrongBag(bag: Bags[string] | undefined): { weight: string | null; price: string | null } {
  const weight = bag && !(bag.bag_kg >= LIGHTEST_KG && bag.bag_kg <= HEAVIEST_KG)
    ? t("form_number", { low: showNumber(typedFromKilos(LIGHTEST_KG) ?? 0, 2), high: showNumber(typedFromKilos(HEAVIEST_KG) ?? 0) }) : null;
  const price = bag && bag.price !== null && bag.price < 0 ? t("site_price_wrong") : null;
  return { weight, price };
}

/** The bags with one field changed; an entry that says nothing goes. A price without any weight stays, to be told of. */
function changed(bags: Bags, id: string, usual_kg: number | null, part: { bag_kg?: number | null; price?: number | null }): Bags | null {
  const before = bags[id] ?? { bag_kg: usual_kg ?? 0, price: null };
  const next = { bag_kg: part.bag_kg === undefined ? before.bag_kg : part.bag_kg ?? usual_kg ?? 0, price: part.price === undefined ? before.price : part.price };
  const others = Object.fromEntries(Object.entries(bags).filter(([one]) => one !== id));
  const all = next.bag_kg === (usual_kg ?? 0) && next.price === null ? others : { ...others, [id]: next };
  return Object.keys(all).length > 0 ? all : null;
}

type Props = { bags: Bags; currency: string; change: (bags: Bags | null) => void };

function OneBag({ id, material, bags, currency, change }: Props & { id: string; material: Material }) {
  const book = catalogue.value;
  const usual_kg = material.bag_kg;
  const name = book ? nameOf(book, "materials", id, language()) : id;
  const wrong = wrongBag(bags[id]);
  return (
    <fieldset class="bag">
      <legend>{name}</legend>
      <NumberField label={t("site_bag", { name })} hint={usual_kg === null ? t("site_bag_loose") : t("site_bag_usual", { mass: showMass(usual_kg) })} unit={massUnit()} wrong={wrong.weight}
        value={typedFromKilos(bags[id]?.bag_kg || null)} onInput={(value) => change(changed(bags, id, usual_kg, { bag_kg: kilosFromTyped(value) }))} />
      <NumberField label={t("site_price", { name })} unit={currency} value={bags[id]?.price ?? null} wrong={wrong.price}
        onInput={(price) => change(changed(bags, id, usual_kg, { price }))} />
    </fieldset>
  );
}

export function BagsFields(props: Props) {
  const materials = Object.entries(catalogue.value?.materials ?? {}).filter(([, one]) => one.unit === "kg");
  return (
    <details>
      <summary>{t("site_bags")}</summary>
      <p class="hint">{t("site_bags_hint")}</p>
      {materials.map(([id, material]) => <OneBag key={id} id={id} material={material} {...props} />)}
    </details>
  );
}
