/** Storms, the latest first, each with the surveys after it; and surveys that followed no storm. */
import { useState } from "preact/hooks";
import type { Storm, Survey } from "../../model/types";
import { whole } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card, Empty } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { DueCard } from "../../parts/lasting/DueCard";
import { go } from "../../parts/frame/route";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { may, stormsByDay, surveysAfter } from "./seen";
import { StormFacts } from "./StormFacts";
import { SurveyBar } from "./SurveyBar";
import { SurveyRow } from "./SurveyRow";
import { SurveyStart } from "./SurveyStart";
import { WindArrow } from "./WindArrow";
import "./storms.css";

export function SurveyRows({ surveys }: { surveys: readonly Survey[] }) {
  return <ul class="rows">{surveys.map((one) => <SurveyRow key={one.id} survey={one} />)}</ul>;
}

function StormCard({ storm }: { storm: Storm }) {
  const surveys = surveysAfter(storm.id);
  return (
    <article class="card" aria-labelledby={`storm-${storm.id}`}>
      <Link to={`/storm/${storm.id}`} class="row-link storm-head">
        <WindArrow from_deg={storm.wind_from_deg} />
        <span class="grow">
          <h2 id={`storm-${storm.id}`}>{storm.name}</h2>
          <small>{showDate(storm.began_on)}</small>
        </span>
        <span aria-hidden="true">›</span>
      </Link>
      <StormFacts storm={storm} />
      {surveys.length ? <SurveyRows surveys={surveys} /> : <p class="hint">{t("storms_no_surveys")}</p>}
    </article>
  );
}

function Storms() {
  const storms = stormsByDay();
  const others = surveysAfter(null);
  if (!whole.value) return <p role="status">{t("storms_not_here")}</p>;
  return (
    <>
      {storms.length ? null : <Empty scene="storms">{t(may("make", "storm") ? "storms_empty" : "storms_empty_reader")}</Empty>}
      <div class="storm-cards">
        {storms.map((one) => <StormCard key={one.id} storm={one} />)}
        {others.length ? <Card title={t("storms_other_surveys")}><SurveyRows surveys={others} /></Card> : null}
      </div>
    </>
  );
}

export function StormsView(_props: { params: Record<string, string> }) {
  const [starting, setStarting] = useState(false);
  const actions = (
    <>
      {may("make", "storm") ? <Button kind="primary" onPress={() => go("/storm/new")}>{t("storms_log")}</Button> : null}
      {may("make", "survey") ? <Button onPress={() => setStarting(true)}>{t("survey_start")}</Button> : null}
    </>
  );
  return (
    <Page title={t("storms_title")} place="storms" actions={may("make", "storm") || may("make", "survey") ? actions : undefined}>
      <SurveyBar short />
      <DueCard />
      <Storms />
      {may("make", "storm") ? <p><Link class="plain-link" to="/station">{t("station_link")}</Link></p> : null}
      <p><Link class="plain-link" to="/lasted">{t("lasted_link")}</Link></p>
      {starting ? <SurveyStart onClose={() => setStarting(false)} onStarted={(id) => go(`/survey/${id}`)} /> : null}
    </Page>
  );
}
