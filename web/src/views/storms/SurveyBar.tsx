/** Which survey what is marked now belongs to, and the deeds that start and finish one. */
import { useState } from "preact/hooks";
import { setSettings, whole } from "../../store";
import { readingsIn } from "../../store/lookup";
import { Button } from "../../parts/frame/Button";
import { Link } from "../../parts/frame/Link";
import { t } from "../../words";
import { may, runningSurvey, surveyName } from "./seen";
import { SurveyStart } from "./SurveyStart";
import "./storms.css";

/** Finish the survey running on this phone: nothing is changed but that new readings no longer belong to it. */
export const finishSurvey = (): Promise<void> => setSettings({ currentSurvey: null });

/** The survey running on this phone; nothing while none runs. `short`: without the way to what to look at first. */
export function SurveyBar({ short }: { short?: boolean }) {
  const survey = runningSurvey();
  if (!whole.value || !survey || !may("make", "survey")) return null;
  return (
    <section class="survey-bar" aria-label={t("survey_bar")}>
      <div class="grow">
        <Link to={`/survey/${survey.id}`}>
          <b>{surveyName(survey)}</b> · {t("survey_readings", { n: readingsIn(survey.id).length })}
        </Link>
        {survey.storm_id && !short ? <Link to={`/storm/${survey.storm_id}/first`}>{t("first_title")}</Link> : null}
      </div>
      <Button onPress={() => void finishSurvey()}>{t("survey_finish")}</Button>
    </section>
  );
}

/** Begins a survey; nothing while one runs. */
export function SurveyDeed({ kind }: { kind: "primary" | "quiet" }) {
  const [starting, setStarting] = useState(false);
  if (!whole.value || runningSurvey() || !may("make", "survey")) return null;
  return (
    <>
      <Button kind={kind} onPress={() => setStarting(true)}>{t("survey_start")}</Button>
      {starting ? <SurveyStart onClose={() => setStarting(false)} /> : null}
    </>
  );
}
