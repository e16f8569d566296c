/** One line of the list in words, and the whole list as text to send. */
import { type Line, type Totals, leftOver } from "../../model/materials/buying";
import type { Ticket } from "../../model/types";
import { nowIso } from "../../store";
import { language, t } from "../../words";
import { rangeEnds, showDate, showMass } from "../../words/measures";
import { money, unitAmount, volumeInMeasures } from "../../parts/ticket/amountWords";
import { siteNow, ticketName } from "../../parts/ticket/gathered";
import type { Gathered } from "./gathering";

export const nameWords = ({ material }: Line): string => material.words[language()];

/** "3 bags of 25 kg", "12 kg, loose", "4 pieces". */
export function orderWords({ material, bought }: Line): string {
  if (bought.bags !== null && bought.bag_kg !== null) return t("buying_bags", { n: bought.bags, of: showMass(bought.bag_kg) });
  if (bought.bags !== null) return t("buying_each", { n: bought.bags });
  return t("buying_loose", { amount: unitAmount(material, bought.buy) });
}

export function needWords({ material, bought }: Line): string {
  const show = (value: number) => unitAmount(material, value);
  const { low, likely, high } = bought.need.amount;
  if (show(low) === show(high)) return t("buying_need_exact", { likely: show(likely) });
  return t("buying_need", { ...rangeEnds(show(low), show(high)), likely: show(likely) });
}

export function leftWords({ material, bought }: Line): string {
  const left = leftOver(bought);
  return left > 1e-9 ? t("buying_left", { amount: unitAmount(material, left) }) : t("buying_left_none");
}

export function priceWords({ bought }: Line): string {
  if (bought.price === null) return t("buying_no_price");
  return t("buying_line_price", { price: money(bought.price), each: money(bought.bags ? bought.price / bought.bags : 0) });
}

export const weightWords = ({ bought }: Line): string => (bought.carry_kg > 0 ? t("buying_weighs", { mass: showMass(bought.carry_kg) }) : "");

export function totalWords(totals: Totals): string[] {
  const unpriced = totals.price > 0 && totals.unpriced > 0 ? t("buying_total_unpriced", { n: totals.unpriced }) : "";
  return totals.price > 0 ? [t("buying_total_price", { price: money(totals.price) }), unpriced].filter(Boolean) : [];
}

export const ticketNames = (tickets: readonly Ticket[]): string => tickets.map(ticketName).join(", ");

/** What an engineer must see first: whether what it takes is in the list. */
export function engineerWords({ engineer, engineer_bare }: Pick<Gathered, "engineer" | "engineer_bare">): string[] {
  return [
    engineer.length > 0 ? t("buying_engineer", { tickets: ticketNames(engineer) }) : "", engineer_bare.length > 0 ? t("buying_engineer_bare", { tickets: ticketNames(engineer_bare) }) : "",
  ].filter(Boolean);
}

/** The list as plain lines; what is ticked off stays in it, marked. */
export function listAsText(found: Gathered, tickets: readonly Ticket[], totals: Totals, loads: string): string {
  const lines = found.lines.map((line) => {
    if (line.have) return t("buying_text_have", { material: nameWords(line) });
    return t("buying_text_line", { order: orderWords(line), material: nameWords(line), need: needWords(line) });
  });
  const water = found.water_l > 0 ? t("buying_water", { volume: volumeInMeasures(found.water_l) }) : "";
  const left_out = found.left_out.length > 0 ? t("buying_not_counted", { tickets: ticketNames(found.left_out) }) : "";
  const head = t("buying_text_head", { site: siteNow()?.name ?? "", date: showDate(nowIso()) });
  return [head, t("buying_text_for", { tickets: ticketNames(tickets) }), ...engineerWords(found), ...lines, water, loads, ...totalWords(totals), left_out].filter(Boolean).join("\n");
}
