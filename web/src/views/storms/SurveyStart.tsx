/** Begin a survey, or change the day, storm and note of one: a question over the page. */
import { useState } from "preact/hooks";
import { dayAllowed, dayOf } from "../../model/storm/limits";
import type { Fields, Id, Storm, Survey } from "../../model/types";
import { nowIso, setSettings } from "../../store";
import { readingsIn } from "../../store/lookup";
import { Ask } from "../../parts/frame/Ask";
import { Button } from "../../parts/frame/Button";
import { Select, TextField } from "../../parts/frame/Field";
import { leadToWrong } from "../../parts/frame/wrong";
import { LeaveButton } from "../../parts/undo/LeaveButton";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { useForm } from "./draft";
import { runningSurvey, stormsByDay, surveyName, surveysByDay } from "./seen";

type Props = {
  /** The storm it follows, where the person comes from one. */
  storm?: Id;
  /** The survey to change; without it a new one begins. */
  survey?: Survey;
  onClose: () => void;
  onStarted?: (id: Id) => void;
};
type SurveyDraft = { seen: number; set: Partial<Fields<"survey">> };

// Assumed: a walk round within two weeks is because of the storm.
const DAYS_AFTER = 14;

function likelyStorm(today: string): Id | null {
  const latest = stormsByDay()[0];
  return latest && Date.parse(today) - Date.parse(latest.began_on) <= DAYS_AFTER * 86_400_000 ? latest.id : null;
}

const stormOption = (storm: Storm) => ({ id: storm.id, label: t("survey_storm_option", { name: storm.name, date: showDate(storm.began_on) }) });

async function walkIn(id: Id, { onClose, onStarted }: Props): Promise<void> {
  await setSettings({ currentSurvey: id });
  onClose();
  onStarted?.(id);
}

/** Surveys begun today, by this person or others, that one can walk along in. */
function OthersToday(props: Props) {
  const today = dayOf(nowIso());
  const others = surveysByDay().filter((one) => one.on === today && one.id !== runningSurvey()?.id);
  if (!others.length) return null;
  return (
    <div class="join-survey">
      <p>{t("survey_join")}</p>
      {others.map((one) => (
        <Button key={one.id} onPress={() => void walkIn(one.id, props)}>
          <span>{surveyName(one)}<br /><small>{t("survey_by", { person: one.made_by })} · {t("survey_readings", { n: readingsIn(one.id).length })}</small></span>
        </Button>
      ))}
    </div>
  );
}

function useSurveyForm(props: Props) {
  const { survey } = props;
  const today = dayOf(nowIso());
  const key = survey ? `survey/${survey.id}` : `survey/new/${props.storm ?? ""}`;
  const draft = useForm<SurveyDraft>(key, { seen: survey?.rev ?? 0, set: {} });
  const [wrong, setWrong] = useState(false);
  const storm_id = props.storm ?? likelyStorm(today);
  const shown: Fields<"survey"> = { ...(survey ?? { on: today, storm_id, elevation_ids: null, note: null }), ...draft.value.set };
  const change = (part: Partial<Fields<"survey">>) => draft.change({ set: { ...draft.value.set, ...part } });
  const keep = async () => {
    setWrong(!dayAllowed(shown.on, nowIso()));
    if ((await leadToWrong()) || !dayAllowed(shown.on, nowIso())) return;
    const put = survey ? { id: survey.id, set: draft.value.set, seen: draft.value.seen } : { set: { on: shown.on, storm_id: shown.storm_id, note: shown.note } };
    const kept = await draft.keep([{ type: "survey", ...put }]);
    if (!kept?.[0]) return;
    if (survey) props.onClose();
    else await walkIn(kept[0], props);
  };
  return { key, shown, change, keep, wrong, trouble: draft.trouble, cancel: () => void draft.discard(t("survey_of", { date: showDate(shown.on) }), props.onClose, null) };
}

export function SurveyStart(props: Props) {
  const { key, shown, change, keep, wrong, trouble, cancel } = useSurveyForm(props);
  const running = runningSurvey();
  const storms = [{ id: "", label: t("survey_storm_none") }, ...stormsByDay().map(stormOption)];
  return (
    <Ask title={t(props.survey ? "survey_change" : "survey_start")} onClose={props.onClose}>
      {props.survey ? null : <p class="hint">{t("survey_start_lead")}</p>}
      {running && !props.survey ? <p>{t("survey_replaces", { survey: surveyName(running) })}</p> : null}
      {props.survey ? null : <OthersToday {...props} />}
      <Select label={t("survey_storm")} value={shown.storm_id ?? ""} options={storms} onPick={(id) => change({ storm_id: id || null })} />
      <TextField label={t("survey_date")} type="date" value={shown.on} onInput={(on) => change({ on })} wrong={wrong ? t("storms_date_wrong") : null} />
      <TextField label={t("survey_note")} hint={t("survey_note_hint")} long max={4000} value={shown.note ?? ""} onInput={(note) => change({ note: note || null })} />
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
      <div class="deeds">
        <LeaveButton draftKey={key} changes={Boolean(props.survey)} onPress={cancel} />
        <Button kind="primary" onPress={() => void keep()}>{t(props.survey ? "keep" : "survey_go")}</Button>
      </div>
    </Ask>
  );
}
