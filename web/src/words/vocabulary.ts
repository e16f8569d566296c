/** Words of the trade, from the catalogue on this phone, in the device's language. */
import { nameOf } from "../model/catalogue";
import { catalogue } from "../store";
import { language } from "./index";

type Worded = { id: string; words: { en: unknown; es: unknown } };
type List = "kinds" | "causes" | "signs" | "families" | "wall_materials" | "opening_kinds" | "reading_states" | "urgencies" | "steps" | "ticket_states"
  | "position_sources" | "roles" | "size_steps" | "depth_steps" | "checks" | "verdicts" | "rub_marks" | "tap_marks"
  | "bead_marks" | "colour_marks";

/** All entries of a vocabulary list; empty while no catalogue has come. */
export function vocabularyList(list: List): readonly Worded[] {
  const vocabulary = catalogue.value?.vocabulary as Record<List, Worded[]> | undefined;
  return vocabulary?.[list] ?? [];
}

/** One word of a vocabulary entry, say the "name" or "see" of a kind; the id itself if it is not known. */
export function vocabularyWord(list: List, id: string | null, field = "name"): string {
  const words = vocabularyList(list).find((entry) => entry.id === id)?.words[language()];
  if (typeof words === "string") return words;
  const found = (words as Record<string, string> | undefined)?.[field];
  return found ?? id ?? "";
}

/** The name of a mix; its id while no catalogue has come. */
export const mixWord = (mix: string): string => (catalogue.value ? nameOf(catalogue.value, "mixes", mix, language()) : mix);
