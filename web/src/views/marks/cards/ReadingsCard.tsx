/** Each look at a defect in its turn: what was measured, and whether it has grown, held or been repaired since the look before. */
import { drewAnew } from "../../../model/defect";
import { type Growth, compareReadings } from "../../../model/growth";
import type { Measures } from "../../../model/marking/marking";
import type { Defect, Reading } from "../../../model/types";
import { Card, Chip, Empty } from "../../../parts/frame/Card";
import { Link } from "../../../parts/frame/Link";
import { row } from "../../../store";
import { readingsOf } from "../../../store/lookup";
import { t } from "../../../words";
import { showDate } from "../../../words/measures";
import { vocabularyWord } from "../../../words/vocabulary";
import { measureWords } from "../sizes";

const MEASURES = ["area_m2", "length_m", "depth_max_mm", "depth_mean_mm", "crack_width_mm", "count"] as const;

/** One measure over time as bars on one scale; the words beside say the same. */
function Bars({ measure, readings }: { measure: keyof Measures; readings: readonly Reading[] }) {
  const known = readings.filter((one) => one[measure] !== null);
  const most = Math.max(...known.map((one) => one[measure] ?? 0));
  if (known.length < 2 || most <= 0) return null;
  return (
    <figure class="bars">
      <figcaption>{t(`measure_name_${measure}`)}</figcaption>
      <ul>
        {known.map((one) => (
          <li key={one.id}>
            <span class="bar-when">{showDate(one.at)}</span>
            <span class="bar-track" aria-hidden="true"><span class="bar-fill" style={{ width: `${(100 * (one[measure] ?? 0)) / most}%` }} /></span>
            <span class="bar-size">{measureWords(measure, one[measure] ?? 0)}</span>
          </li>
        ))}
      </ul>
    </figure>
  );
}

function changeWords(growth: Growth): string[] {
  return Object.entries(growth.changes).filter(([, change]) => change.by !== 0).map(([measure, change]) => {
    const size = measureWords(measure as keyof Measures, Math.abs(change.by));
    return t(change.by > 0 ? "reading_more" : "reading_less", { size });
  });
}

function OneReading({ defect, reading, upTo }: { defect: Defect; reading: Reading; upTo: readonly Reading[] }) {
  const growth = compareReadings(upTo);
  const measures = MEASURES.flatMap((name) => (reading[name] === null ? [] : [measureWords(name, reading[name] ?? 0)]));
  const survey = row("survey", reading.survey_id);
  return (
    <li class="reading">
      <p>
        <strong>{showDate(reading.at)}</strong> {growth ? <Chip strong={growth.state === "grown"}>{vocabularyWord("reading_states", growth.state)}</Chip> : null}
      </p>
      <ul class="reading-facts">
        {measures.map((words) => <li key={words}>{words}</li>)}
        {growth ? changeWords(growth).map((words) => <li key={words}>{words}</li>) : null}
        {measures.length === 0 ? <li>{t("reading_nothing")}</li> : null}
        {drewAnew(defect, upTo) ? <li>{t("reading_redrawn")}</li> : null}
      </ul>
      {reading.note ? <p>{reading.note}</p> : null}
      <p class="sub">
        {t("reading_by", { person: reading.made_by })}
        {survey ? <> · <Link to={`/survey/${survey.id}`}>{t("reading_survey", { date: showDate(survey.on) })}</Link></> : null}
      </p>
    </li>
  );
}

export function ReadingsCard({ defect }: { defect: Defect }) {
  const readings = readingsOf(defect.id);
  if (readings.length === 0) return <Card title={t("reading_list")}><Empty small scene="readings">{t("reading_none")}</Empty></Card>;
  return (
    <Card title={t("reading_list")} aside={t("survey_readings", { n: readings.length })}>
      {(["area_m2", "length_m", "depth_max_mm", "crack_width_mm", "count"] as const).map((measure) => <Bars key={measure} measure={measure} readings={readings} />)}
      <ol class="readings" reversed>
        {readings.map((one, i) => <OneReading key={one.id} defect={defect} reading={one} upTo={readings.slice(0, i + 1)} />).reverse()}
      </ol>
    </Card>
  );
}
