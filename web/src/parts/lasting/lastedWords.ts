/** Sentences of what lasted: amounts of driving rain or days, of one finish and of a group. */
import type { Followed } from "../../model/lasting/follow";
import { type Group, type Measure, spanOf } from "../../model/lasting/group";
import type { Coat } from "../../model/types";
import { language, t } from "../../words";
import { isUs, showDate, showMm, showNumber } from "../../words/measures";
import { mixWord } from "../../words/vocabulary";

export const MM_PER_IN = 25.4;

/** A litre on a square metre is a millimetre of water; Americans read rain in inches. */
export function showDose(l_m2: number): string {
  if (isUs()) return t("dose_in", { amount: showNumber(l_m2 / MM_PER_IN, 2) });
  return t("dose_l_m2", { amount: showNumber(l_m2, l_m2 < 10 ? 1 : 0) });
}

export const showAmount = (value: number, measure: Measure): string => (measure === "l_m2" ? showDose(value) : t("days", { n: Math.round(value) }));

/** What is known of one finish, in a sentence. */
export function standWords(one: Followed, measure: Measure): string {
  if (one.verdict === "not_looked") return t("lasted_unseen");
  if (one.verdict === "no_day") return t("lasted_no_day");
  const span = spanOf(one, measure);
  if (!span) return t("lasted_no_rain_known");
  if (span.right !== null) return goneOne(one, { left: span.left, right: span.right }, measure);
  const worn = one.verdict === "worn";
  if (span.left === 0 && measure === "l_m2") return t(worn ? "lasted_one_worn_dry" : "lasted_one_held_dry");
  return t(worn ? "lasted_one_worn" : "lasted_one_held", { amount: showAmount(span.left, measure) });
}

function goneOne(one: Followed, { left, right }: { left: number; right: number }, measure: Measure): string {
  const to = showAmount(right, measure);
  if (right === 0 && measure === "l_m2") return t("lasted_one_gone_dry");
  if (left > 0) return t("lasted_one_gone", { from: showAmount(left, measure), to });
  return t(one.days?.left === 0 ? "lasted_one_gone_unseen" : "lasted_one_gone_by", { to });
}

function goneWords(group: Group, measure: Measure): string[] {
  const show = (value: number) => showAmount(value, measure);
  const { gone_between: gone } = group;
  if (gone.length > 3) {
    const from = Math.min(...gone.map((one) => one.left));
    return [t(from === 0 ? "lasted_gone_by" : "lasted_many_gone", { n: gone.length, from: show(from), to: show(Math.max(...gone.map((one) => one.right))) })];
  }
  const said = gone.map(({ left, right }) => {
    const key = right === 0 && measure === "l_m2" ? "lasted_gone_dry" : left === 0 ? "lasted_gone_by" : "lasted_gone";
    return (n: number) => t(key, { n, from: show(left), to: show(right) });
  });
  return alike(said);
}

/** Those that would say the same word for word say it once, with how many they are. */
function alike(said: readonly ((n: number) => string)[]): string[] {
  const many = new Map<string, number>();
  const first = new Map(said.map((say) => [say(1), say]));
  for (const say of said) many.set(say(1), (many.get(say(1)) ?? 0) + 1);
  return [...first].map(([one, say]) => say(many.get(one) ?? 1));
}

function stoodWords(followed: number, held: number, dry: boolean, amount: string): string {
  if (followed === 0) return t("lasted_nothing");
  const none = followed === 2 ? t("lasted_neither") : t("lasted_none", { n: followed });
  if (held === 0) return t("lasted_none_held", { n: followed, none });
  const all = followed === 2 ? t("lasted_both") : t("lasted_all", { n: followed });
  if (held === followed) return t(dry ? "lasted_all_held_dry" : "lasted_all_held", { n: held, all, amount });
  return t(dry ? "lasted_some_held_dry" : "lasted_some_held", { n: held, of: followed, amount });
}

/** A group in plain sentences: how many held and through what, between what the others let go, and what is not known. */
export function groupWords(group: Group, measure: Measure): string[] {
  const { followed, held, held_through: through } = group;
  const stood = stoodWords(followed, held, through === 0 && measure === "l_m2", showAmount(through ?? 0, measure));
  return [
    stood, ...goneWords(group, measure),
    ...(group.worn ? [t("lasted_worn", { n: group.worn })] : []),
    ...(group.not_looked ? [t("lasted_not_looked", { n: group.not_looked })] : []),
    ...(group.not_known ? [t("lasted_not_known", { n: group.not_known })] : []),
  ];
}

/** Coats from the wall outwards: "lime base coat 12 mm, limewash 0.4 mm". */
export const coatsWords = (coats: readonly Coat[]): string =>
  coats.length ? new Intl.ListFormat(language(), { type: "unit", style: "long" }).format(coats.map((coat) => t("coat_short", { name: mixWord(coat.mix), thickness: showMm(coat.thickness_mm) }))) : t("finish_no_coats");

export const dayWords = (on: string | null): string => (on ? showDate(on) : t("not_recorded"));
