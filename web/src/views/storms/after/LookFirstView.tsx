/** Where to look first after a storm: the sides in an order with its reasons, ticked as one walks; works without signal. */
import { NoSides } from "./NoSides";
import type { Storm } from "../../../model/types";
import { row, whole } from "../../../store";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { Link } from "../../../parts/frame/Link";
import { Page } from "../../../parts/frame/Page";
import { go } from "../../../parts/frame/route";
import { t } from "../../../words";
import { NotHere } from "../../NotHere";
import { may, runningSurvey } from "../seen";
import { LookRow } from "./LookRow";
import { lookedAt, walkAfter } from "./doses";
import { surveyFor, walk } from "./walking";
import "./after.css";

function How() {
  return (
    <details class="first-how">
      <summary>{t("first_how")}</summary>
      <p>{t("first_how_say")}</p>
      <p class="hint">{t("first_how_basis")}</p>
    </details>
  );
}

function Deeds({ storm }: { storm: Storm }) {
  const survey = surveyFor(storm);
  if (survey && runningSurvey()?.id === survey.id) return <Button kind="primary" onPress={() => go(`/survey/${survey.id}`)}>{t("first_to_survey")}</Button>;
  return <Button kind="primary" onPress={() => void walk(storm)}>{t(survey ? "survey_resume" : "first_start")}</Button>;
}

export function LookFirstView({ params }: { params: Record<string, string> }) {
  const storm = row("storm", params.id);
  if (!storm) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  const list = walkAfter(storm);
  const looked = lookedAt(surveyFor(storm));
  const mayWalk = may("make", "survey");
  const done = list?.filter(({ ranked }) => looked.has(ranked.id)).length ?? 0;
  return (
    <Page title={t("first_title")} sub={t("first_sub", { storm: storm.name })} place="storms" back={`/storm/${storm.id}`} actions={mayWalk ? <Deeds storm={storm} /> : undefined}>
      {list === null ? <Card><p>{t("first_not_here")}</p></Card> : null}
      {list?.length ? (
        <>
          <p class="first-count" role="status">{t("first_count", { n: done, of: list.length })}</p>
          <p class="hint">{t("first_care")}</p>
          <ol class="first-list">
            {list.map((one, i) => <LookRow key={one.ranked.id} storm={storm} walk={one} place={i + 1} looked={looked.has(one.ranked.id)} mayTick={mayWalk} />)}
          </ol>
        </>
      ) : null}
      {list?.length === 0 ? <NoSides /> : null}
      <How />
      <p><Link class="plain-link" to={`/storm/${storm.id}/rain`}>{t("rain_link")}</Link></p>
    </Page>
  );
}
