/** The finishes of a side: what covers it, since when, and what covered it before. */
import { coverOf } from "../../model/defect";
import type { Elevation, Finish } from "../../model/types";
import { finishesOf } from "../../store/lookup";
import { Card, Chip, Empty } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { may } from "../../parts/may";
import { t } from "../../words";
import { showDate, showMm } from "../../words/measures";
import { mixWord } from "../../words/vocabulary";

function FinishRow({ finish }: { finish: Finish }) {
  const when = finish.ended_on ? t("finish_until", { date: showDate(finish.ended_on) }) : finish.made_on ? t("finish_since", { date: showDate(finish.made_on) }) : null;
  const coats = finish.coats.length ? t("finish_total", { thickness: showMm(coverOf(finish.coats)) }) : t("finish_no_coats");
  return (
    <li>
      <Link class="row-link" to={`/finish/${finish.id}`}>
        <span class="grow">{finish.name}<small class="block">{coats}</small>{when ? <small class="block">{when}</small> : null}</span>
        {finish.sample_panel ? <Chip>{t("finish_panel")}</Chip> : null}
      </Link>
    </li>
  );
}

export function FinishCard({ elevation }: { elevation: Elevation }) {
  const finishes = [...finishesOf(elevation.id)].reverse().sort((a, b) => Number(a.ended_on !== null) - Number(b.ended_on !== null));
  return (
    <Card title={t("elevation_finishes")}>
      {finishes.length ? <ul class="rows">{finishes.map((one) => <FinishRow key={one.id} finish={one} />)}</ul> : <Empty small scene="coats">{t("elevation_finish_none")}</Empty>}
      {finishes.length ? <p><Link class="plain-link" to={`/elevation/${elevation.id}/here`}>{t("here_link")}</Link></p> : null}
      {may("make", "finish") ? <Link class="plain-link" to={`/finish/new?elevation=${elevation.id}`}>{t("elevation_finish_add")}</Link> : null}
    </Card>
  );
}
