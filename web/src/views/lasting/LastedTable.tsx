/** The same as the bars, as a table. */
import { coatsWords, dayWords, standWords } from "../../parts/lasting/lastedWords";
import type { Entry } from "../../parts/lasting/ledger";
import { t } from "../../words";

export function LastedTable({ entries }: { entries: readonly Entry[] }) {
  return (
    <details class="lasted-table">
      <summary>{t("lasted_table")}</summary>
      <div class="lasted-list">
        {entries.map((one) => (
          <table key={one.finish.id}>
            <caption>{one.finish.name} <span class="sub">{[one.structure?.name, one.elevation.name].filter(Boolean).join(" · ")}</span></caption>
            <tbody>
              <tr><th scope="row">{t("finish_coats")}</th><td>{coatsWords(one.finish.coats)}</td></tr>
              <tr><th scope="row">{t("finish_made_on")}</th><td>{dayWords(one.finish.made_on)}</td></tr>
              <tr><th scope="row">{t("looks")}</th><td>{one.followed.looks}</td></tr>
              <tr><th scope="row">{t("lasted_by_rain")}</th><td>{standWords(one.followed, "l_m2")}</td></tr>
              <tr><th scope="row">{t("lasted_by_days")}</th><td>{standWords(one.followed, "days")}</td></tr>
            </tbody>
          </table>
        ))}
      </div>
    </details>
  );
}
