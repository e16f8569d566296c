/** What the trade says about this kind of defect, and the published terms for it. */
import { Card } from "../../../parts/frame/Card";
import { t } from "../../../words";
import { vocabularyWord } from "../../../words/vocabulary";
import { kindEntry } from "../trade";

const ASKED = ["cause", "urgent", "repair", "measure"] as const;

export function TradeCard({ kind }: { kind: string | null }) {
  const entry = kindEntry(kind);
  if (!entry) return null;
  return (
    <Card title={t("trade_title", { kind: vocabularyWord("kinds", entry.id) })}>
      <p>{vocabularyWord("kinds", entry.id, "see_more")}</p>
      <dl class="trade">
        {ASKED.map((field) => (
          <div key={field}>
            <dt>{t(`trade_${field}`)}</dt>
            <dd>{vocabularyWord("kinds", entry.id, field)}</dd>
          </div>
        ))}
      </dl>
      {entry.glossary.map((one) => (
        <p class="sub" key={`${one.source} ${one.term}`}>{t(one.basis === "read" ? "trade_term" : "trade_term_memory", { term: one.term, source: one.source })}</p>
      ))}
    </Card>
  );
}
