/** The name over a group of finishes. */
import { type Sort } from "../../model/lasting/sort";
import { catalogue } from "../../store";
import type { Entry } from "../../parts/lasting/ledger";
import { t } from "../../words";
import { rangeEnds, showBearing, showMm } from "../../words/measures";
import { mixWord, vocabularyWord } from "../../words/vocabulary";

function thicknessName(place: number): string {
  const bounds = catalogue.value?.lasting?.thickness_mm ?? [];
  const [low, high] = [bounds[place - 1], bounds[place]];
  if (high === undefined) return t("thick_over", { low: showMm(low ?? 0) });
  return low === undefined ? t("thick_under", { high: showMm(high) }) : t("thick_between", rangeEnds(showMm(low), showMm(high)));
}

function sortName(key: string, by: Sort, members: readonly Entry[]): string {
  if (by === "thickness") return thicknessName(Number(key));
  if (by === "wall") return key ? vocabularyWord("wall_materials", key) : t("not_recorded");
  if (by === "face") return t("sort_faces", { bearing: showBearing(Number(key)) });
  if (by === "mix") return key ? mixWord(key) : t("finish_no_coats");
  const names = new Set(members.map((one) => one.finish.name));
  const [outer, under] = [...(members[0]?.finish.coats ?? [])].reverse().map((coat) => mixWord(coat.mix));
  if (names.size === 1) return members[0]?.finish.name ?? "";
  return outer && under ? t("sort_over", { outer, under }) : (outer ?? t("finish_no_coats"));
}

/** Names of the groups in order; where two are the same they are numbered. */
export function sortNames(groups: readonly { key: string; members: readonly Entry[] }[], by: Sort): string[] {
  const names = groups.map(({ key, members }) => sortName(key, by, members));
  return names.map((name, i) => (names.filter((one) => one === name).length > 1 ? t("sort_again", { name, n: names.slice(0, i + 1).filter((one) => one === name).length }) : name));
}
