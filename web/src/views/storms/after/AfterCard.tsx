/** On a storm's page: the three sides to look at first, and the ways to the walking list and to the rain on each side. */
import type { Storm } from "../../../model/types";
import { Card } from "../../../parts/frame/Card";
import { Link } from "../../../parts/frame/Link";
import { t } from "../../../words";
import { doseWords, walkAfter } from "./doses";
import "./after.css";

const SHOWN = 3;

export function AfterCard({ storm }: { storm: Storm }) {
  const list = walkAfter(storm);
  if (!list?.length) return null;
  return (
    <Card title={t("first_title")}>
      <ol class="first-short">
        {list.slice(0, SHOWN).map(({ side, ranked }) => <li key={ranked.id}><b>{side.name}</b> · {doseWords(side.dose)}</li>)}
      </ol>
      <Link to={`/storm/${storm.id}/first`} class="btn btn-quiet">{t("first_open")}</Link>
      <p><Link to={`/storm/${storm.id}/rain`} class="plain-link">{t("rain_link")}</Link></p>
    </Card>
  );
}
