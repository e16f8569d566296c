/** Sample panels that want a look: each week while they are young, and after each storm. */
import type { Due } from "../../model/lasting/due";
import { row } from "../../store";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { Card } from "../frame/Card";
import { Link } from "../frame/Link";
import { may } from "../may";
import { dueToday } from "./ledger";

function DueRow({ due }: { due: Due }) {
  const elevation = row("elevation", due.finish.elevation_id);
  const structure = row("structure", elevation?.structure_id);
  const why = due.why === "after_storm" ? t("due_after_storm", { storm: due.storm?.name ?? "" }) : t("due_weekly", { date: showDate(due.since ?? "") });
  return (
    <li>
      <Link class="row-link" to={`/finish/${due.finish.id}/score`}>
        <span class="grow"><b>{due.finish.name}</b><small class="block">{[structure?.name, elevation?.name].filter(Boolean).join(" · ")}</small><small class="block">{why}</small></span>
        <span aria-hidden="true">›</span>
      </Link>
    </li>
  );
}

export function DueCard() {
  const due = dueToday();
  if (!due.length || !may("make", "score")) return null;
  return (
    <Card title={t("due_title", { n: due.length })}>
      <ul class="rows">{due.map((one) => <DueRow key={one.finish.id} due={one} />)}</ul>
    </Card>
  );
}
