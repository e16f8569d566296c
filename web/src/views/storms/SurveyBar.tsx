/** Which survey what is marked now belongs to; start one or finish it here. Stands on the walls and while marking. */
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

/** `onlyRunning`: nothing at all while no survey runs. */
export function SurveyBar({ onlyRunning }: { onlyRunning?: boolean }) {
  const [starting, setStarting] = useState(false);
  const survey = runningSurvey();
  if (!whole.value || !may("make", "survey") || (!survey && onlyRunning)) return null;
  return (
    <section class="survey-bar" aria-label={t("survey_bar")}>
      {survey ? (
        <>
          <div class="grow">
            <Link to={`/survey/${survey.id}`}>
              <b>{surveyName(survey)}</b> · {t("survey_readings", { n: readingsIn(survey.id).length })}
            </Link>
            {survey.storm_id && !onlyRunning ? <Link to={`/storm/${survey.storm_id}/first`}>{t("first_title")}</Link> : null}
          </div>
          <Button onPress={() => void finishSurvey()}>{t("survey_finish")}</Button>
        </>
      ) : (
        <>
          <span class="grow">{t("survey_none")}</span>
          <Button onPress={() => setStarting(true)}>{t("survey_start_one")}</Button>
        </>
      )}
      {starting ? <SurveyStart onClose={() => setStarting(false)} /> : null}
    </section>
  );
}
