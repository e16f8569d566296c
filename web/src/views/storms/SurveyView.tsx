/** One survey: what it found, wall by wall, and what is still to look at. */
import { useState } from "preact/hooks";
import { tally } from "../../model/storm/survey";
import type { Defect, Survey } from "../../model/types";
import { drop, row, setSettings, settings, whole } from "../../store";
import { readingsIn } from "../../store/lookup";
import { isClosed } from "../../parts/judged";
import { Button } from "../../parts/frame/Button";
import { Card, Chip, Empty } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { SureButton } from "../../parts/frame/SureButton";
import { go } from "../../parts/frame/route";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { NotHere } from "../NotHere";
import { foundOf, may, toLook } from "./seen";
import { finishSurvey } from "./SurveyBar";
import { TallyMarks } from "./SurveyRow";
import { SurveyStart } from "./SurveyStart";
import { WallMarks } from "./WallMarks";
import { offerRows } from "../../parts/undo/undo";
import "./storms.css";

const toDefect = (defect: Defect) => `/defect/${defect.id}`;
const isRunning = (survey: Survey) => settings.value.currentSurvey === survey.id;

function FoundCard({ survey }: { survey: Survey }) {
  const found = foundOf(survey.id);
  return (
    <Card title={t("survey_list")} aside={t("survey_readings", { n: readingsIn(survey.id).length })}>
      {found.length ? <WallMarks marks={found} to={toDefect} /> : <Empty small scene="surveys">{t("survey_found_none")}</Empty>}
    </Card>
  );
}

/** The counts, above everything, and the note. */
function Head({ survey }: { survey: Survey }) {
  const found = foundOf(survey.id);
  return (
    <>
      {found.length ? <p class="tally-big"><TallyMarks counts={tally(found)} /></p> : null}
      {survey.note ? <p class="storm-note">{survey.note}</p> : null}
    </>
  );
}

/** The walking list; while the survey runs here, each row leads straight to a new reading. */
function ToLook({ survey }: { survey: Survey }) {
  const running = isRunning(survey);
  const known = toLook(survey);
  const [open, closed] = [known.filter((one) => !isClosed(one)), known.filter(isClosed)];
  const link = running ? (defect: Defect) => `/defect/${defect.id}/reading` : toDefect;
  const row = { to: link, ...(running ? { aside: t("survey_look") } : {}) };
  const looked = foundOf(survey.id).some((one) => one.growth?.state !== "new");
  if (!known.length) return <Card><p>{t(looked ? "survey_to_look_none" : "survey_to_look_nothing")}</p></Card>;
  return (
    <>
      <Card title={t(running ? "survey_to_look" : "survey_to_look_past", { n: open.length })}>
        <p class="hint">{t(running ? "survey_to_look_lead" : "survey_to_look_past_lead")}</p>
        <WallMarks marks={open.map((defect) => ({ defect }))} {...row} />
      </Card>
      {closed.length ? (
        <Card title={t("survey_repaired", { n: closed.length })}>
          <p class="hint">{t("survey_repaired_lead")}</p>
          <WallMarks marks={closed.map((defect) => ({ defect }))} {...row} />
        </Card>
      ) : null}
    </>
  );
}

function RemoveSurvey({ survey }: { survey: Survey }) {
  const remove = async () => {
    const running = isRunning(survey);
    if (running) await finishSurvey();
    await drop("survey", survey.id, survey.rev);
    go("/storms", true);
    offerRows(t("survey_of", { date: showDate(survey.on) }), [{ type: "survey", id: survey.id }], running ? () => setSettings({ currentSurvey: survey.id }) : undefined);
  };
  return <SureButton label={t("survey_delete")} title={t("survey_delete_ask")} say={t("survey_delete_say")} yes={t("delete")} onYes={remove} />;
}

function ChangeSurvey({ survey }: { survey: Survey }) {
  const [changing, setChanging] = useState(false);
  const empty = readingsIn(survey.id).length === 0;
  return (
    <div class="deeds">
      {may("edit", "survey") ? <Button onPress={() => setChanging(true)}>{t("survey_change")}</Button> : null}
      {may("drop", "survey") && empty ? <RemoveSurvey survey={survey} /> : null}
      {changing ? <SurveyStart survey={survey} onClose={() => setChanging(false)} /> : null}
    </div>
  );
}

function Deeds({ survey }: { survey: Survey }) {
  if (!isRunning(survey)) return <Button kind="primary" onPress={() => void setSettings({ currentSurvey: survey.id })}>{t("survey_resume")}</Button>;
  return (
    <>
      <Button onPress={() => void finishSurvey()}>{t("survey_finish")}</Button>
      <Button kind="primary" onPress={() => go("/walls")}>{t("survey_to_walls")}</Button>
    </>
  );
}

function Sub({ survey }: { survey: Survey }) {
  const storm = row("storm", survey.storm_id);
  return (
    <>
      {storm ? <Link to={`/storm/${storm.id}`}>{t("survey_after", { storm: storm.name })}</Link> : t("survey_no_storm")}
      {" · "}{t("survey_by", { person: survey.made_by })}
      {isRunning(survey) ? <> <Chip strong>{t("survey_running")}</Chip></> : null}
    </>
  );
}

export function SurveyView({ params }: { params: Record<string, string> }) {
  const survey = row("survey", params.id);
  if (!survey) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  const deeds = may("make", "reading") ? <Deeds survey={survey} /> : undefined;
  const running = isRunning(survey);
  const parts = [<div key="look"><ToLook survey={survey} /></div>, <div key="found"><FoundCard survey={survey} /></div>];
  return (
    <Page title={t("survey_title", { date: showDate(survey.on) })} sub={<Sub survey={survey} />} place="storms" back="/storms" actions={deeds}>
      <Head survey={survey} />
      {running ? parts : [...parts].reverse()}
      <ChangeSurvey survey={survey} />
    </Page>
  );
}
