/** One storm: what is recorded of it, the surveys after it, and what they were the first to see. */
import { useState } from "preact/hooks";
import type { Storm, Survey } from "../../model/types";
import { type Change, drop, putMany, row, whole } from "../../store";
import { readingsIn } from "../../store/lookup";
import { Button } from "../../parts/frame/Button";
import { Card, Empty } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { SureButton } from "../../parts/frame/SureButton";
import { go } from "../../parts/frame/route";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { NotHere } from "../NotHere";
import { AfterCard } from "./after/AfterCard";
import { KindBars } from "./KindBars";
import { firstSeenAfter, may, surveysAfter } from "./seen";
import { StormFacts } from "./StormFacts";
import { SurveyRows } from "./StormsView";
import { SurveyStart } from "./SurveyStart";
import { WallMarks } from "./WallMarks";
import { WindArrow } from "./WindArrow";
import { rainMeanWords, rainOnScales, splitNote } from "./weather";
import { offerRows } from "../../parts/undo/undo";
import "./storms.css";

function RainScales({ storm }: { storm: Storm }) {
  const [mean, classes] = [rainMeanWords(storm), rainOnScales(storm)];
  if (!mean || !classes) return null;
  return (
    <>
      <p>{mean}</p>
      <details>
        <summary>{t("storms_rain_scales")}</summary>
        <table>
          <thead><tr><th scope="col">{t("storms_scale")}</th><th scope="col">{t("storms_class")}</th></tr></thead>
          <tbody>{classes.map((one) => <tr key={one.scale}><th scope="row">{t(one.scale)}</th><td>{one.name}</td></tr>)}</tbody>
        </table>
      </details>
    </>
  );
}

function Recorded({ storm }: { storm: Storm }) {
  // Rain by eye stands among the facts as long as no figure does.
  const note = storm.rain_mm === null ? splitNote(storm.note).rest : storm.note;
  return (
    <Card title={t("storms_facts")}>
      <div class="storm-figures">
        <WindArrow from_deg={storm.wind_from_deg} size={76} />
        <StormFacts storm={storm} whole />
      </div>
      <RainScales storm={storm} />
      {storm.gust_m_s === null ? null : <p class="hint">{t("storms_force_note")}</p>}
      {note ? <p class="storm-note">{note}</p> : null}
      {storm.source ? <p class="hint">{t("storms_source", { source: storm.source })}</p> : null}
      {may("edit", "storm") ? <p><Link class="plain-link" to={`/storm/${storm.id}/hours`}>{t("hours_link")}</Link></p> : null}
    </Card>
  );
}

function FirstSeen({ surveys }: { surveys: readonly Survey[] }) {
  const defects = firstSeenAfter(surveys);
  const looked = surveys.some((one) => readingsIn(one.id).length > 0);
  if (!defects.length) return <Card title={t("storms_first_seen")}><Empty small scene="mark">{t(looked ? "storms_first_seen_none" : "storms_first_seen_nobody")}</Empty></Card>;
  return (
    <Card title={t("storms_first_seen")} aside={t("storms_first_seen_n", { n: defects.length })}>
      <KindBars defects={defects} />
      <WallMarks marks={defects.map((defect) => ({ defect }))} to={(defect) => `/defect/${defect.id}`} />
    </Card>
  );
}

/** Surveys are let go of first: one that still named the storm would bring it back with its next change. */
async function remove(storm: Storm, surveys: readonly Survey[]): Promise<void> {
  const freed = surveys.map((one): Change => ({ type: "survey", id: one.id, set: { storm_id: null }, seen: one.rev }));
  if (freed.length) await putMany([...freed, { type: "storm", id: storm.id, drop: true, seen: storm.rev }]);
  else await drop("storm", storm.id, storm.rev);
  go("/storms", true);
  const tied = () => putMany(surveys.map((one): Change => ({ type: "survey", id: one.id, set: { storm_id: storm.id } })));
  offerRows(storm.name, [{ type: "storm", id: storm.id }], surveys.length ? tied : undefined);
}

function RemoveStorm({ storm, surveys }: { storm: Storm; surveys: readonly Survey[] }) {
  const say = surveys.length ? t("storms_delete_say", { n: surveys.length }) : t("storms_delete_plain");
  return <SureButton label={t("storms_delete")} title={t("storms_delete_ask", { name: storm.name })} say={say} yes={t("delete")} onYes={() => remove(storm, surveys)} />;
}

function Deeds({ storm }: { storm: Storm }) {
  const [starting, setStarting] = useState(false);
  return (
    <>
      {may("edit", "storm") ? <Button onPress={() => go(`/storm/${storm.id}/edit`)}>{t("change")}</Button> : null}
      {may("make", "survey") ? <Button kind="primary" onPress={() => setStarting(true)}>{t("survey_start")}</Button> : null}
      {starting ? <SurveyStart storm={storm.id} onClose={() => setStarting(false)} onStarted={(id) => go(`/survey/${id}`)} /> : null}
    </>
  );
}

export function StormView({ params }: { params: Record<string, string> }) {
  const storm = row("storm", params.id);
  if (!storm) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  const surveys = surveysAfter(storm.id);
  const deeds = may("edit", "storm") || may("make", "survey") ? <Deeds storm={storm} /> : undefined;
  return (
    <Page title={storm.name} sub={showDate(storm.began_on)} place="storms" back="/storms" actions={deeds} wide>
      <div>
        <Recorded storm={storm} />
        <AfterCard storm={storm} />
        <Card title={t("storms_surveys")}>{surveys.length ? <SurveyRows surveys={surveys} /> : <Empty small scene="surveys">{t("storms_no_surveys")}</Empty>}</Card>
      </div>
      <div>
        <FirstSeen surveys={surveys} />
        {may("drop", "storm") ? <RemoveStorm storm={storm} surveys={surveys} /> : null}
      </div>
    </Page>
  );
}
