/** The same as the bars, as a table. */
import { coatsWords, dayWords, standWords } from "../../parts/lasting/lastedWords";
import type { Entry } from "../../parts/lasting/ledger";
import { t } from "../../words";

export function LastedTable({ entries }: { entries: readonly Entry[] }) {
  return (
    <details class="lasted-table">
      <summary>{t("lasted_table")}</summary>
      {entries.map((one) => (
        <section key={one.finish.id}>
          <h3>{one.finish.name}</h3>
          <p class="sub">{[one.structure?.name, one.elevation.name].filter(Boolean).join(" · ")}</p>
          <dl class="lasted-facts">
            <div class="lasted-fact"><dt>{t("finish_coats")}</dt><dd>{coatsWords(one.finish.coats)}</dd></div>
            <div class="lasted-fact"><dt>{t("finish_made_on")}</dt><dd>{dayWords(one.finish.made_on)}</dd></div>
            <div class="lasted-fact"><dt>{t("looks")}</dt><dd>{one.followed.looks}</dd></div>
            <div class="lasted-fact"><dt>{t("lasted_by_rain")}</dt><dd>{standWords(one.followed, "l_m2")}</dd></div>
            <div class="lasted-fact"><dt>{t("lasted_by_days")}</dt><dd>{standWords(one.followed, "days")}</dd></div>
          </dl>
        </section>
      ))}
    </details>
  );
}
