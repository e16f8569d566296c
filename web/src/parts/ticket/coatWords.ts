/** What coats are called, the same on tickets, in dates and calendars and on work days: true coats by their numbers, a filling and its lifts apart. */
import type { Laid } from "../../model/waiting/laid";
import { t } from "../../words";
import { mixWord } from "../../words/vocabulary";

type Place = Pick<Laid, "part" | "n" | "lift" | "lifts">;

/** "Coat 2", "Filling", "Filling, lift 2 of 3"; nothing for what fills a crack or beds a stone, which is all there is to lay. */
export function coatName({ part, n, lift, lifts }: Place): string {
  if (part === "fill") return "";
  if (n !== null) return t("coat_number", { n });
  return lifts > 1 ? t("filling_lift", { lift, lifts }) : t("filling");
}

/** "Coat 2: lime coat", or the mix alone. */
export const coatThenMix = (place: Place & Pick<Laid, "mix">): string => [coatName(place), mixWord(place.mix)].filter(Boolean).join(": ");

/** "lime coat (Coat 2)", for use within a sentence. */
export function mixThenCoat(mixes: readonly string[], place: Place | undefined): string {
  const [mix, name] = [mixes.map(mixWord).join(", "), place ? coatName(place) : ""];
  return name ? `${mix} (${name})` : mix;
}

/** "Coat 2", "Coats 1 to 4" of one wash, "Filling" for all its lifts. */
export function coatsName(first_n: number | null, times: number): string {
  if (first_n === null) return t("filling");
  return times > 1 ? t("coats_numbers", { n: first_n, last: first_n + times - 1 }) : t("coat_number", { n: first_n });
}

/** The same for a drawing, where there is room for few letters. */
export function coatTag(first_n: number | null, last_n: number | null): string {
  if (first_n === null || last_n === null) return t("filling_tag");
  return first_n === last_n ? String(first_n) : `${first_n}–${last_n}`;
}
