/** Which column of a station's table holds what, guessed before and changed here; a unit that was guessed says so. */
import { useState } from "preact/hooks";
import { RAIN_UNITS, type StationMapping, type StationRead, WIND_UNITS } from "../../../store";
import { Button } from "../../../parts/frame/Button";
import { Select, TextField } from "../../../parts/frame/Field";
import { t } from "../../../words";

const same = (id: string) => ({ id, label: id });

export function Columns({ columns, zone, onChange }: { columns: StationRead["columns"]; zone: string; onChange: (part: StationMapping) => void }) {
  const [typed, setTyped] = useState(zone);
  const all = columns.all.map(same);
  const orders = [{ id: "day_first", label: t("station_day_first") }, { id: "month_first", label: t("station_month_first") }];
  const pick = (field: "time" | "rain" | "wind" | "wind_from", label: string) => (
    <Select label={label} value={columns[field] ?? ""} onPick={(id) => onChange({ [field]: id })} options={all.some(({ id }) => id === columns[field]) ? all : [{ id: columns[field] ?? "", label: t("station_not_found") }, ...all]} />
  );
  return (
    <>
      <div class="figures station-columns">
        {pick("time", t("station_time"))}
        {columns.date_order !== "year_first" ? (
          <Select label={t("station_date_order")} value={columns.date_order} options={orders} onPick={(date_order) => onChange({ date_order })} hint={columns.date_order_sure ? undefined : t("station_unit_guessed")} />
        ) : null}
        {pick("rain", t("storms_rain"))}
        <Select label={t("station_rain_unit")} value={columns.rain_unit} options={RAIN_UNITS.map(same)} onPick={(rain_unit) => onChange({ rain_unit })} hint={columns.rain_unit_sure ? undefined : t("station_unit_guessed")} />
        {pick("wind", t("storms_mean_wind"))}
        <Select label={t("station_wind_unit")} value={columns.wind_unit} options={WIND_UNITS.map(same)} onPick={(wind_unit) => onChange({ wind_unit })} hint={columns.wind_unit_sure ? undefined : t("station_unit_guessed")} />
        {pick("wind_from", t("hours_from"))}
        {columns.station && columns.stations.length > 1 ? (
          <Select label={t("station_which")} value={columns.station_is ?? ""} options={columns.stations.map(same)} onPick={(station_is) => onChange({ station: columns.station ?? "", station_is })} />
        ) : null}
      </div>
      <TextField label={t("station_zone")} hint={t("station_zone_hint")} value={typed} max={60} onInput={setTyped} />
      {typed !== zone ? <Button onPress={() => onChange({ zone: typed.trim() })}>{t("station_zone_use")}</Button> : null}
    </>
  );
}
