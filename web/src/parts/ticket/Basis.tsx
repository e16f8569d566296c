/** Where a number comes from, as a small framed word; what was read in its source needs none. */
import { t } from "../../words";
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

/** The name of a source. Sources are written in English, and said so to a screen reader. */
export function SourceWords({ source }: { source: string }) {
  return <>{t("source_words", { source: "" })}<span lang="en">{source}</span></>;
}
