/** What a look told, by sign and word. */
import type { Verdict } from "../../model/lasting/follow";
import { vocabularyWord } from "../../words/vocabulary";

const SIGNS: Record<Verdict, string> = { held: "=", worn: "~", let_go: "×" };

export function VerdictWord({ verdict }: { verdict: Verdict }) {
  return <span class={`verdict verdict-${verdict}`}><span aria-hidden="true">{SIGNS[verdict]} </span>{vocabularyWord("verdicts", verdict)}</span>;
}
