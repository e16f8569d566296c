/** Where a number comes from, as a small framed word; what was read in its source needs none. */
import { catalogue } from "../../store";
import { language, t } from "../../words";
import "./ticket.css";

export function basisWords(basis: string): string {
  if (basis === "from memory") return t("from_memory");
  if (basis === "common practice" || basis === "practice") return t("basis_practice");
  if (basis === "assumed") return t("basis_assumed");
  return t(basis === "derived" ? "basis_derived" : "basis_read");
}

export function BasisMark({ basis }: { basis: string }) {
  return basis === "read" ? null : <small class="basis">{basisWords(basis)}</small>;
}

/** A source of the catalogue in the device's language; shared data has it in English, and a table of the others. */
export const sourceIn = (source: string): string => catalogue.value?.sources?.[language()]?.[source] ?? source;

/** Where a number comes from, with its lead-in. */
export function SourceWords({ source }: { source: string }) {
  return <>{t("source_words", { source: sourceIn(source) })}</>;
}
