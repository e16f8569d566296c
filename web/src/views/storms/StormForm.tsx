/** Log a storm in four taps without typing, or change one. Only what was touched is sent, so that others' figures stay. */
import { useState } from "preact/hooks";
import { type StormNumber, STORM_LIMITS, dayAllowed, dayOf, outOfLimits } from "../../model/storm/limits";
import type { Fields, Storm } from "../../model/types";
import { nowIso, row, whole } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { NumberField, Pick, TextField, Toggle } from "../../parts/frame/Field";
import { Page } from "../../parts/frame/Page";
import { go, goBack } from "../../parts/frame/route";
import { leadToWrong } from "../../parts/frame/wrong";
import { t } from "../../words";
import { mmFromTyped, showBearing, showNumber, smallUnit, typedFromMm } from "../../words/measures";
import { NotHere } from "../NotHere";
import { useForm } from "./draft";
import { POINTS, RAIN_EYES, dayAndMonth, joinNote, speedFromTyped, speedUnit, splitNote, tileOf, typedFromSpeed } from "./weather";
import { WindArrow } from "./WindArrow";
import "./storms.css";

type StormDraft = { seen: number; set: Partial<Fields<"storm">> };
type Part = { shown: Fields<"storm">; change: (part: Partial<Fields<"storm">>) => void; checked: boolean };

const blank = (began_on: string): Fields<"storm"> => ({
  name: t("storms_named", { date: dayAndMonth(began_on) }), began_on, duration_h: null, rain_mm: null, wind_m_s: null, wind_from_deg: null,
  gust_m_s: null, hail: null, rain_1h_mm: null, rain_24h_mm: null, hours: null, source: null, note: null,
});

/** The refusals of the form's fields; empty when the storm can be kept. */
function wrongFields(shown: Fields<"storm">): Set<keyof Fields<"storm">> {
  const numbers = (Object.keys(STORM_LIMITS) as StormNumber[]).filter((field) => outOfLimits(field, shown[field]));
  return new Set([...numbers, ...(shown.name.trim() ? [] : ["name" as const]), ...(dayAllowed(shown.began_on, nowIso()) ? [] : ["began_on" as const])]);
}

function WhenAndWhat({ shown, change, checked }: Part) {
  const wrong = checked ? wrongFields(shown) : new Set();
  return (
    <Card>
      <TextField label={t("storms_name")} value={shown.name} max={120} onInput={(name) => change({ name })} wrong={wrong.has("name") ? t("storms_name_missing") : null} />
      <TextField label={t("storms_began_on")} type="date" value={shown.began_on} onInput={(began_on) => change({ began_on })}
        wrong={wrong.has("began_on") ? t("storms_date_wrong") : null} />
    </Card>
  );
}

function ByEye({ shown, change }: Part) {
  const { eye, rest } = splitNote(shown.note);
  const from = shown.wind_from_deg;
  const tile = tileOf(from);
  return (
    <Card>
      <Pick legend={t("storms_from_where")} columns={3} value={tile}
        onPick={(id) => change({ wind_from_deg: id === "" ? null : Number(id) })}
        options={POINTS.map((deg) => ({
          id: deg === null ? "" : String(deg),
          label: deg === null ? t("storms_from_unknown") : <><span class="unseen">{t("storms_point", { point: showBearing(deg) })}</span><span aria-hidden="true">{showBearing(deg)}</span></>,
          drawing: deg === null ? undefined : <WindArrow from_deg={deg} />,
        }))} />
      {from !== null && tile === null ? <p class="hint">{t("storms_from_between", { point: showBearing(from), deg: from })}</p> : null}
      <Pick legend={t("storms_rain_how")} value={eye ?? ""} onPick={(id) => change({ note: joinNote(id === "" ? null : id, rest) })}
        options={[
          ...RAIN_EYES.map((id) => ({ id, label: t(`storms_rain_${id}`), hint: t(`storms_rain_${id}_hint`) })),
          { id: "" as const, label: t("storms_rain_unsaid") },
        ]} />
      <p class="hint">{t("storms_rain_eye_note")}</p>
      <Toggle label={t("storms_hail_fell")} on={shown.hail === true} onChange={(hail) => change({ hail })} />
    </Card>
  );
}

/** A figure typed in the device's measures and kept in the row's. */
function Figure({ part, field, label }: { part: Part; field: StormNumber; label: string }) {
  const speed = field === "wind_m_s" || field === "gust_m_s";
  const [typed, kept, unit] = speed ? [typedFromSpeed, speedFromTyped, speedUnit()]
    : field !== "duration_h" ? [typedFromMm, mmFromTyped, smallUnit()] : [(value: number | null) => value, (value: number | null) => value, t("storms_hours_unit")];
  const wrong = part.checked && outOfLimits(field, part.shown[field]);
  const [low, high] = STORM_LIMITS[field].map((limit) => showNumber(typed(limit) ?? limit, 0)) as [string, string];
  return (
    <NumberField label={label} unit={unit} value={typed(part.shown[field])} onInput={(value) => part.change({ [field]: kept(value) })}
      wrong={wrong ? t("storms_number_wrong", { low, high }) : null} />
  );
}

function Figures(part: Part) {
  const { wind_m_s: wind, gust_m_s: gust, note } = part.shown;
  const { eye, rest } = splitNote(note);
  return (
    <Card title={t("storms_figures")}>
      <div class="figures">
        <Figure part={part} field="rain_mm" label={t("storms_rain_amount")} />
        <Figure part={part} field="duration_h" label={t("storms_duration")} />
        <Figure part={part} field="rain_1h_mm" label={t("storms_rain_1h")} />
        <Figure part={part} field="rain_24h_mm" label={t("storms_rain_24h")} />
        <Figure part={part} field="wind_m_s" label={t("storms_mean_wind")} />
        <Figure part={part} field="gust_m_s" label={t("storms_gust_top")} />
      </div>
      {part.shown.hours ? <p class="hint">{t("storms_figures_of_hours")}</p> : null}
      {wind !== null && gust !== null && gust < wind ? <p class="hint" role="status">{t("storms_gust_under_wind")}</p> : null}
      <TextField label={t("storms_note")} long max={3900} value={rest} onInput={(text) => part.change({ note: joinNote(eye, text) })} />
    </Card>
  );
}

function Form({ storm }: { storm: Storm | undefined }) {
  const draft = useForm<StormDraft>(`storm/${storm?.id ?? "new"}`, { seen: storm?.rev ?? 0, set: {} });
  const [checked, setChecked] = useState(false);
  const { set, seen } = draft.value;
  const shown = { ...(storm ?? blank(set.began_on || dayOf(nowIso()))), ...set };
  const part: Part = { shown, checked, change: (some) => draft.change({ set: { ...set, ...some } }) };
  const keep = async () => {
    setChecked(true);
    if ((await leadToWrong()) || wrongFields(shown).size) return;
    const name = shown.name.trim();
    const put = storm ? { id: storm.id, seen, set } : { set: { ...set, name, began_on: shown.began_on } };
    const kept = await draft.keep([{ type: "storm", ...put }]);
    if (kept?.[0]) go(`/storm/${kept[0]}`, true);
  };
  const back = storm ? `/storm/${storm.id}` : "/storms";
  const touched = Object.keys(set).length > 0;
  const actions = (
    <>
      {touched ? <Button onPress={() => void draft.discard(shown.name.trim() || t("storms_new_title"), () => goBack(back), storm ? `/storm/${storm.id}/edit` : "/storm/new")}>{t(storm ? "throw_changes" : "throw_entry")}</Button> : null}
      <Button kind="primary" onPress={() => void keep()}>{t("storms_keep")}</Button>
    </>
  );
  return (
    <Page title={t(storm ? "storms_edit_title" : "storms_new_title")} place="storms" back={back} actions={actions}>
      {draft.trouble ? <p class="wrong" role="alert">{draft.trouble}</p> : null}
      <div class="storm-form">
        <div><WhenAndWhat {...part} /><ByEye {...part} /></div>
        <Figures {...part} />
      </div>
    </Page>
  );
}

export function StormForm({ params }: { params: Record<string, string> }) {
  const storm = row("storm", params.id);
  if (params.id && !storm) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  return <Form storm={storm} />;
}
