/** On the first screen: how much others changed since the last look. Nothing is shown where nothing did. */
import { currentSite, looks, news, nowIso } from "../../store";
import { Link } from "../../parts/frame/Link";
import { t } from "../../words";
import { showSince } from "../../words/measures";
import { told } from "./told";
import "./finding.css";

export function ChangesCard() {
  const n = told(news.value).length;
  const look = looks.value[currentSite.value ?? ""];
  if (!n || !look) return null;
  return (
    <p class="card changes-card">
      <Link class="row-link" to="/changes"><span class="grow"><strong>{t("changes_count", { n })}</strong> {t("changes_since", { since: showSince(look.at, nowIso()) })}</span><span aria-hidden="true">›</span></Link>
    </p>
  );
}
