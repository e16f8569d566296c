/** One survey in a list: whose, how many readings, and what they found, by sign and word. */
import { type Tally, tally } from "../../model/storm/survey";
import type { Survey } from "../../model/types";
import { settings } from "../../store";
import { readingsIn } from "../../store/lookup";
import { Chip } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { foundOf } from "./seen";

const SIGNS = { new: "+", grown: "▲", held: "=", repaired: "✓", looked: "·" } as const;
const STATES = Object.keys(SIGNS) as (keyof Tally)[];

/** One state by sign and word. */
export function StateWord({ state }: { state: keyof Tally }) {
  return <span class={`tally-${state}`}><span aria-hidden="true">{SIGNS[state]} </span>{t(`survey_many_${state}`, { n: 1 })}</span>;
}

/** How many in each state; states nobody found are left out. */
export function TallyMarks({ counts }: { counts: Tally }) {
  return (
    <span class="tally">
      {STATES.filter((state) => counts[state] > 0).map((state) => (
        <span key={state} class={`tally-${state}`}><span aria-hidden="true">{SIGNS[state]} </span>{counts[state]} {t(`survey_many_${state}`, { n: counts[state] })}</span>
      ))}
    </span>
  );
}

export function SurveyRow({ survey }: { survey: Survey }) {
  return (
    <li>
      <Link to={`/survey/${survey.id}`} class="row-link">
        <span class="grow">
          <b>{t("survey_of", { date: showDate(survey.on) })}</b>
          {settings.value.currentSurvey === survey.id ? <> <Chip strong>{t("survey_running")}</Chip></> : null}
          <small class="under">{t("survey_by", { person: survey.made_by })} · {t("survey_readings", { n: readingsIn(survey.id).length })}</small>
          <TallyMarks counts={tally(foundOf(survey.id))} />
        </span>
        <span aria-hidden="true">›</span>
      </Link>
    </li>
  );
}
