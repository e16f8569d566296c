/** A storm hour by hour, typed on this phone: rain, mean wind and where from; what is left empty is not recorded. */
import { useState } from "preact/hooks";
import { dayOf } from "../../../model/storm/limits";
import type { Storm } from "../../../model/types";
import { row, whole } from "../../../store";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { Select, TextField } from "../../../parts/frame/Field";
import { Page } from "../../../parts/frame/Page";
import { go } from "../../../parts/frame/route";
import { leadToWrong } from "../../../parts/frame/wrong";
import { LeaveButton } from "../../../parts/undo/LeaveButton";
import { t } from "../../../words";
import { mmFromTyped, parseNumber, showBearing, showTime, smallUnit, typedFromMm, typedNumber } from "../../../words/measures";
import { NotHere } from "../../NotHere";
import { useForm } from "../draft";
import { speedFromTyped, speedUnit, typedFromSpeed } from "../weather";
import { MOST_HOURS, type TypedHour, type TypedHours, beginOf, blankRows, figuresOf, hoursOf } from "./typed";
import "./hours.css";

const READER = { parse: parseNumber, mm: mmFromTyped, speed: speedFromTyped };
const EIGHT = [0, 45, 90, 135, 180, 225, 270, 315];
const ROWS_AT_FIRST = 12;
/** The sentence above the table that says what is wrong with its hours. */
const SAID = "hours-wrong";
type HoursDraft = TypedHours & { seen: number };

function begin(storm: Storm): HoursDraft {
  const { hours } = storm;
  if (!hours) return { day: storm.began_on, hour: 0, rows: blankRows(ROWS_AT_FIRST), seen: storm.rev };
  const text = (value: number | null | undefined) => (value === null || value === undefined ? "" : typedNumber(value));
  const rows = hours.rain_mm.map((mm, i): TypedHour => ({
    rain: text(typedFromMm(mm)), wind: text(typedFromSpeed(hours.wind_m_s[i] ?? null)), from: String(hours.from_deg[i] ?? ""),
  }));
  return { day: dayOf(hours.from), hour: new Date(hours.from).getHours(), rows, seen: storm.rev };
}

/** A typed direction keeps its degrees; the eight points are there to pick from. */
function fromOptions(from: string): number[] {
  return from === "" || EIGHT.includes(Number(from)) ? EIGHT : [...EIGHT, Number(from)].sort((a, b) => a - b);
}

type RowProps = { label: string; value: TypedHour; wrong: boolean; onChange: (part: Partial<TypedHour>) => void };

function HourRow({ label, value, wrong, onChange }: RowProps) {
  const box = (field: "rain" | "wind", named: string) => (
    <td><input type="text" inputMode="decimal" autocomplete="off" maxLength={8} aria-label={t("hours_cell", { what: named, hour: label })} aria-invalid={wrong || undefined} aria-describedby={wrong ? SAID : undefined}
      value={value[field]} onInput={(event) => onChange({ [field]: event.currentTarget.value })} /></td>
  );
  return (
    <tr class={wrong ? "hour-wrong" : undefined}>
      <th scope="row">{label}</th>
      {box("rain", t("storms_rain"))}
      {box("wind", t("storms_wind"))}
      <td>
        <select aria-label={t("hours_cell", { what: t("hours_from"), hour: label })} value={value.from} onChange={(event) => onChange({ from: event.currentTarget.value })}>
          <option value="">–</option>
          {fromOptions(value.from).map((deg) => <option key={deg} value={String(deg)}>{showBearing(deg)}</option>)}
        </select>
      </td>
    </tr>
  );
}

function HoursTable({ typed, wrong, onRow }: { typed: TypedHours; wrong: ReadonlySet<number>; onRow: (i: number, part: Partial<TypedHour>) => void }) {
  return (
    <table class="hours-table">
      <caption class="unseen">{t("hours_title")}</caption>
      <thead><tr>
        <th scope="col">{t("hours_hour")}</th><th scope="col">{t("hours_rain", { unit: smallUnit() })}</th><th scope="col">{t("hours_wind", { unit: speedUnit() })}</th>
        <th scope="col">{t("hours_from")}</th>
      </tr></thead>
      <tbody>
        {typed.rows.map((value, i) => (
          <HourRow key={i} label={showTime(beginOf(typed, i).toISOString())} value={value} wrong={wrong.has(i)} onChange={(part) => onRow(i, part)} />
        ))}
      </tbody>
    </table>
  );
}

function Form({ storm }: { storm: Storm }) {
  const { value, change, keep, discard, trouble } = useForm<HoursDraft>(`storm/${storm.id}/hours`, begin(storm));
  const [checked, setChecked] = useState(false);
  const found = hoursOf(value, READER);
  const onRow = (i: number, part: Partial<TypedHour>) => change({ rows: value.rows.map((one, k) => (k === i ? { ...one, ...part } : one)) });
  const keepHours = async () => {
    setChecked(true);
    if ((await leadToWrong()) || !found.hours) return;
    const kept = await keep([{ type: "storm", id: storm.id, set: figuresOf(found.hours, storm), seen: value.seen }]);
    if (kept) go(`/storm/${storm.id}`, true);
  };
  const wrongWords = !checked ? null : found.wrong.size ? t("hours_wrong", { n: found.wrong.size }) : found.hours ? null : t("hours_none");
  const more = Math.min(12, MOST_HOURS - value.rows.length);
  return (
    <Page title={t("hours_title")} sub={storm.name} place="storms" back={`/storm/${storm.id}`} actions={
      <>
        <LeaveButton draftKey={`storm/${storm.id}/hours`} changes={storm.hours !== null} onPress={() => discard(`${t("hours_title")}, ${storm.name}`, () => go(`/storm/${storm.id}`, true), `/storm/${storm.id}/hours`)} />
        <Button kind="primary" onPress={() => void keepHours()}>{t("hours_keep")}</Button>
      </>}>
      <p>{t("hours_lead")}</p>
      {trouble ?? wrongWords ? <p class="wrong" id={SAID} role="alert">{trouble ?? wrongWords}</p> : null}
      <Card>
        <div class="figures">
          <TextField label={t("hours_day")} type="date" value={value.day} onInput={(day) => (day ? change({ day }) : undefined)} />
          <Select label={t("hours_first")} value={String(value.hour)} onPick={(hour) => change({ hour: Number(hour) })}
            options={Array.from({ length: 24 }, (_, hour) => ({ id: String(hour), label: showTime(beginOf({ day: value.day, hour }, 0).toISOString()) }))} />
        </div>
        <HoursTable typed={value} wrong={checked ? found.wrong : new Set()} onRow={onRow} />
        {more > 0 ? <Button onPress={() => change({ rows: [...value.rows, ...blankRows(more)] })}>{t("hours_more", { n: more })}</Button> : null}
      </Card>
    </Page>
  );
}

export function HoursView({ params }: { params: Record<string, string> }) {
  const storm = row("storm", params.id);
  if (!storm) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  return <Form storm={storm} />;
}
