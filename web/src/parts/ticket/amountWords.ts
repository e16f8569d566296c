/** Amounts as one measures them out: buckets, cups and spoons by halves and quarters, kilograms or pounds beside them. */
import type { Material } from "../../model/catalogue";
import { type MassUnit, type Measured, type Measures, type VolumeUnit, bucketsFor, measureOut, usualBucketL, weighOut } from "../../model/materials/amounts";
import type { MaterialNeed } from "../../model/materials/job";
import type { Purchase } from "../../model/materials/shopping";
import type { Range } from "../../model/types";
import { UNITS } from "../../model/units";
import { settings } from "../../store";
import { locale, t } from "../../words";
import { isUs, rangeEnds, showArea, showMass, showNumber, showVolume, withUnit } from "../../words/measures";
import { siteNow } from "./gathered";

const QUARTERS = ["", "¼", "½", "¾"];

/** 2.75 as "2¾": a whole number and a fraction one can see in a bucket. */
export function fractionWords(amount: number): string {
  const quarters = Math.round(amount * 4);
  const [whole, part] = [Math.floor(quarters / 4), QUARTERS[quarters % 4] ?? ""];
  return whole === 0 && part ? part : `${showNumber(whole, 0)}${part}`;
}

const measures = (): Measures => settings.value.measures;
/** The site's own bucket, else the usual one. */
export const bucketL = (): number => siteNow()?.bucket_l ?? usualBucketL(measures());

function measuredWords({ unit, amount }: Measured<VolumeUnit>): string {
  const n = amount <= 1 ? 1 : amount;
  const shown = fractionWords(amount);
  return unit === "bucket" ? t("unit_bucket", { n, shown }) : unit === "cup" ? t("unit_cup", { n, shown }) : t("unit_tbsp", { n, shown });
}

const weighedWords = ({ unit, amount }: Measured<MassUnit>): string => withUnit(amount, unit);

/** Quarters of a bucket are told only where they are this near; a jug with marks is nearer otherwise. */
const NEAR = 0.1;

/** A loose volume as buckets, cups or spoons; in litres or gallons where buckets would stray too far, and for metric cups, which few people have. */
export function volumeInMeasures(volume_l: number): string {
  const found = measureOut(volume_l, bucketL(), measures());
  const far = found.unit === "bucket" && Math.abs(found.amount * bucketL() - volume_l) > NEAR * volume_l;
  return far || (found.unit === "cup" && measures() === "metric") ? showVolume(volume_l) : measuredWords(found);
}
/** A batch as it is mixed: litres, and the buckets that hold it, never told smaller than it is. */
export function batchInMeasures(volume_l: number): string {
  const amount = bucketsFor(volume_l, bucketL());
  return amount === null ? showVolume(volume_l) : t("batch_in_buckets", { volume: showVolume(volume_l), buckets: measuredWords({ unit: "bucket", amount }) });
}
export const massInMeasures = (mass_kg: number): string => weighedWords(weighOut(mass_kg, measures()));

/** What is small and solid, or has no volume, goes over the scale. */
export const isWeighed = (material: Material, loose_l: number | null): boolean => material.unit === "kg" && (material.small || loose_l === null);

/** The amount to measure out: what is small and solid is weighed, everything else that pours goes by the bucket. */
export function bigAmount(material: Material, amount: number, loose_l: number | null): string {
  if (material.unit === "each") return t("unit_each", { n: Math.ceil(amount - 1e-9) });
  if (material.unit === "m2") return showArea(amount);
  if (material.unit === "l") return volumeInMeasures(amount);
  return isWeighed(material, loose_l) || loose_l === null ? massInMeasures(amount) : volumeInMeasures(loose_l);
}

/** An amount in the material's own unit. */
export function unitAmount(material: Material, amount: number): string {
  if (material.unit === "each") return t("unit_each", { n: Math.round(amount * 10) / 10 });
  if (material.unit === "m2") return showArea(amount);
  return material.unit === "l" ? showVolume(amount) : showMass(amount);
}

/** Of one litre in place, or of one gallon: a mass or volume to the gram. */
export const perUnitMass = (kg_per_l: number): string =>
  isUs() ? withUnit((kg_per_l * UNITS.us_gal[1]) / UNITS.lb[1], "lb", 2) : withUnit(kg_per_l, "kg", 3);
export const perUnitVolume = (l_per_l: number): string => withUnit(l_per_l, isUs() ? "gal" : "L", 3);
export const oneUnit = (): string => (isUs() ? "1\u00a0gal" : "1\u00a0L");

export function rangeWords(range: Range, show: (value: number) => string): string {
  const [low, high] = [show(range.low), show(range.high)];
  return low === high ? low : t("range_words", rangeEnds(low, high));
}

/** Mass and loose volume beside the big amount, as far as they say more than it does: a weighed amount is not told twice for its rounding. */
export function besideAmount(material: Material, need: MaterialNeed): string {
  const big = bigAmount(material, need.amount.likely, need.l?.likely ?? null);
  const own = unitAmount(material, need.amount.likely);
  const parts = own === big || isWeighed(material, need.l?.likely ?? null) ? [] : [own];
  if (need.l && material.unit === "kg" && !material.small && showVolume(need.l.likely) !== big) parts.push(t("amount_loose", { amount: showVolume(need.l.likely) }));
  if (need.damp_l) parts.push(t("amount_damp", { amount: volumeInMeasures(need.damp_l.likely) }));
  return parts.join(" · ");
}

export function money(amount: number): string {
  const currency = siteNow()?.currency;
  if (!currency || !/^[A-Z]{3}$/.test(currency)) return showNumber(amount, 2);
  return new Intl.NumberFormat(locale(), { style: "currency", currency }).format(amount);
}

/** What to order so as not to run short; empty for what comes from the tap. */
export function orderWords(id: string, material: Material, bought: Purchase): string {
  if (id === "water" || bought.buy === 0) return "";
  const price = bought.price === null ? "" : ` · ${money(bought.price)}`;
  if (bought.bag_kg !== null) return t("order_bags", { n: bought.bags ?? 0, of: showMass(bought.bag_kg) }) + price;
  return t("order_loose", { amount: unitAmount(material, bought.buy) }) + price;
}
