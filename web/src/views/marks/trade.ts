/** Entries of the vocabulary as the marking screens need them, and names for what lies under a mark. */
import { nameOf } from "../../model/catalogue";
import { finishUnder } from "../../model/defect";
import type { Question } from "../../model/marking/marking";
import type { Defect, Elevation, Mark, MarkShape } from "../../model/types";
import { type UrgencyTable, judge } from "../../model/urgency";
import { defectLabel } from "../../parts/judged";
import { catalogue } from "../../store";
import { standingFinishes, structureOf } from "../../store/lookup";
import { language, t } from "../../words";
import { vocabularyList, vocabularyWord } from "../../words/vocabulary";

export type KindEntry = {
  id: string; family: string; mark: MarkShape; measures: Question[]; signs: string[]; causes: string[];
  glossary: { source: string; term: string; basis: string }[]; words: { en: unknown; es: unknown };
};
type Sign = { id: string; structural: boolean; words: { en: unknown; es: unknown } };

/** Those met most often after a storm come first; common practice, no source. */
export const COMMONEST = ["washout", "spalling", "delamination", "crazing", "structural_crack", "damp_patch"];

export const kinds = () => vocabularyList("kinds") as readonly KindEntry[];
export const kindEntry = (id: string | null): KindEntry | null => kinds().find((one) => one.id === id) ?? null;
export const signs = () => vocabularyList("signs") as readonly Sign[];

export const kindName = (kind: string | null): string => (kind ? vocabularyWord("kinds", kind) : t("mark_unnamed"));

/** "14 · Spalling": how a defect is called everywhere, so that its number never reads as a count. */
export const defectName = (defect: Defect): string => t("defect_name", { number: defectLabel(defect), kind: kindName(defect.kind) });

export function wallName(elevation: Elevation): string {
  return t("mark_wall_name", { structure: structureOf(elevation)?.name ?? "", elevation: elevation.name });
}

export type Under = { coats: { label: string; thickness_mm: number }[]; wallLabel: string };

/** The coats under a mark, from the wall outwards, and what the wall is of. */
export function underMark(elevation: Elevation, mark: Mark | null): Under {
  const book = catalogue.value;
  const finish = mark ? finishUnder(mark, standingFinishes(elevation.id)) : null;
  const coats = (finish?.coats ?? []).map(({ mix, thickness_mm }) => ({ label: book ? nameOf(book, "mixes", mix, language()) : mix, thickness_mm }));
  const material = structureOf(elevation)?.wall_material ?? null;
  return { coats, wallLabel: material && material !== "other" ? vocabularyWord("wall_materials", material) : t("mark_wall") };
}

/** The sentence of an urgency rule. */
export function reasonWords(id: string): string {
  const table = catalogue.value?.urgency as UrgencyTable | undefined;
  const rule = table ? [...table.rules, table.default].find((one) => one.id === id) : undefined;
  return rule?.words[language()] ?? id;
}

export function judgeFacts(facts: Parameters<typeof judge>[0] | null): ReturnType<typeof judge> | null {
  const table = catalogue.value?.urgency as UrgencyTable | undefined;
  return facts && table ? judge(facts, table) : null;
}

/** The reason that says "stop, keep people away, engineer": the first engineer-first rule among these. */
export function stopReasons(reasons: readonly string[]): string[] {
  const table = catalogue.value?.urgency as UrgencyTable | undefined;
  return reasons.filter((id) => table?.rules.find((rule) => rule.id === id)?.engineer_first === true);
}
