/** The forecast day by day: typed in, or pasted from a table. */
import { useId, useState } from "preact/hooks";
import { MOST_DAYS, readForecast, type WrongLine } from "../../../model/planning/forecastTable";
import type { ForecastDay } from "../../../model/types";
import { dateOfDay, dayNumber } from "../../../model/waiting/curing";
import { t } from "../../../words";
import { mmFromTyped, showDate, smallUnit, typedFromMm } from "../../../words/measures";
import { celsiusFromTyped, degreeUnit, typedFromCelsius } from "../../../parts/waiting/degrees";
import { Button } from "../../../parts/frame/Button";
import { NumberField, TextField } from "../../../parts/frame/Field";
import type { ChangeDay, DayDraft } from "./draft";
import { useTakeOut } from "../../../parts/undo/undo";

type DayProps = { day: ForecastDay; change: (fields: Partial<ForecastDay>) => void; onRemove: () => void };

/** The words of a table's line stand behind its number there; here they begin a sentence. */
const asSentence = (words: string): string => words.charAt(0).toLocaleUpperCase() + words.slice(1);

function wrongWords({ low_c, high_c, rain_mm }: ForecastDay): string | null {
  if (Math.abs(low_c ?? 0) > 60 || Math.abs(high_c ?? 0) > 60 || (rain_mm ?? 0) < 0 || (rain_mm ?? 0) > 2000) return asSentence(t("forecast_line_range"));
  return low_c !== null && high_c !== null && low_c > high_c ? asSentence(t("forecast_line_upside_down")) : null;
}

function Day({ day, change, onRemove }: DayProps) {
  const id = useId();
  const wrong = wrongWords(day);
  return (
    <fieldset class="forecast-day">
      <legend>{showDate(day.on)}</legend>
      <div class="forecast-line">
        <NumberField label={t("forecast_low")} unit={degreeUnit()} value={typedFromCelsius(day.low_c)} wrongBy={wrong ? id : undefined} onInput={(low) => change({ low_c: celsiusFromTyped(low) })} />
        <NumberField label={t("forecast_high")} unit={degreeUnit()} value={typedFromCelsius(day.high_c)} onInput={(high) => change({ high_c: celsiusFromTyped(high) })} />
        <NumberField label={t("forecast_rain")} unit={smallUnit()} value={typedFromMm(day.rain_mm)} onInput={(rain) => change({ rain_mm: mmFromTyped(rain) })} />
      </div>
      {wrong ? <p class="wrong" id={id} role="alert">{wrong}</p> : null}
      <Button kind="warning" label={t("forecast_remove_of", { date: showDate(day.on) })} onPress={onRemove}>{t("remove")}</Button>
    </fieldset>
  );
}

function Paste({ onRead }: { onRead: (days: ForecastDay[]) => void }) {
  const [text, setText] = useState("");
  const [told, setTold] = useState<{ n: number; wrong: WrongLine[] } | null>(null);
  const read = (table: string) => {
    const { days, wrong } = readForecast(table, { celsius: (value) => celsiusFromTyped(value) ?? value, mm: (value) => mmFromTyped(value) ?? value });
    setTold({ n: days.length, wrong });
    if (days.length > 0) onRead(days);
  };
  const choose = (input: HTMLInputElement) => {
    const file = input.files?.[0];
    if (file) void file.text().then((table) => { setText(table); read(table); });
    input.value = "";
  };
  return (
    <>
      <TextField long label={t("forecast_paste")} hint={t("forecast_paste_hint", { degrees: degreeUnit(), rain: smallUnit() })} value={text} onInput={setText} />
      <div class="deeds"><Button disabled={text.trim() === ""} onPress={() => read(text)}>{t("forecast_read")}</Button></div>
      <label class="btn file-deed">{t("forecast_file")}<input type="file" accept=".csv,.txt,.tsv,text/csv,text/plain" onChange={(event) => choose(event.currentTarget)} /></label>
      <div role="status">
        {told ? <p>{t("forecast_taken", { n: told.n })}</p> : null}
        {told && told.wrong.length > 0 ? <ul class="wrong">{told.wrong.slice(0, 20).map((one) => <li key={one.line}>{t("forecast_line", { line: one.line, why: t(`forecast_line_${one.why}`) })}</li>)}</ul> : null}
      </div>
    </>
  );
}

type Props = { draft: DayDraft; change: ChangeDay };

function nextDay({ forecast, on }: DayDraft): string {
  const last = forecast.at(-1)?.on;
  return last ? dateOfDay(dayNumber(last) + 1) : on;
}

export function ForecastCard({ draft, change }: Props) {
  const { forecast } = draft;
  const [round, setRound] = useState(0);
  const set = (next: ForecastDay[]) => {
    change({ forecast: next });
    setRound((one) => one + 1);
  };
  const takeOut = useTakeOut(forecast, set);
  const add = () => change({ forecast: [...forecast, { on: nextDay(draft), low_c: null, high_c: null, rain_mm: null }] });
  const edit = (on: string, fields: Partial<ForecastDay>) => change({ forecast: forecast.map((day) => (day.on === on ? { ...day, ...fields } : day)) });
  return (
    <details class="card handing-fold">
      <summary><h2>{t("forecast_title")}</h2> <span class="aside">{forecast.length > 0 ? t("forecast_days", { n: forecast.length }) : t("forecast_none")}</span></summary>
      <p class="hint">{t("forecast_say")}</p>
      {forecast.map((day, n) => <Day key={`${round}-${day.on}`} day={day} change={(fields) => edit(day.on, fields)} onRemove={() => takeOut(n, showDate(day.on))} />)}
      <div class="deeds"><Button disabled={forecast.length >= MOST_DAYS} onPress={add}>{t("forecast_add")}</Button></div>
      <Paste onRead={set} />
    </details>
  );
}
