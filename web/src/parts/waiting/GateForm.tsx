/** The questions of the gate, as tiles and big buttons: the weather of the site, and this wall. */
import { type Weather, type WallNow } from "../../model/waiting/answers";
import { DRYING_DAYS, daysLeftToDry } from "../../model/waiting/gate";
import { dayNumber } from "../../model/waiting/curing";
import { t } from "../../words";
import { showNumber } from "../../words/measures";
import { Pick, TextField, Toggle } from "../frame/Field";
import { DegreeField } from "./DegreeField";

type WeatherProps = { weather: Weather; change: (fields: Partial<Weather>) => void };
const NIGHTS = [1, 3, 7, 14] as const;

export function WeatherFields({ weather, change }: WeatherProps) {
  return (
    <>
      <DegreeField label={t("gate_temperature")} value_c={weather.temperature_c} onInput={(temperature_c) => change({ temperature_c })} />
      <Pick
        legend={t("gate_trend")} columns={3} value={weather.trend} onPick={(trend) => change({ trend })}
        options={(["falling", "steady", "rising"] as const).map((id) => ({ id, label: t(`gate_trend_${id}`) }))}
      />
      <DegreeField label={t("gate_lowest")} value_c={weather.lowest_c} onInput={(lowest_c) => change({ lowest_c })} />
      <Pick
        legend={t("gate_nights")} columns={4} value={String(weather.nights)} onPick={(nights) => change({ nights: Number(nights) })}
        options={NIGHTS.map((nights) => ({ id: String(nights), label: showNumber(nights, 0) }))}
      />
      {weather.lowest_c !== null && weather.lowest_c <= 0 ? (
        <Pick
          legend={t("gate_first_frost")} columns={3} value={weather.first_frost} onPick={(first_frost) => change({ first_frost })}
          options={(["tonight", "tomorrow", "later"] as const).map((id) => ({ id, label: t(`gate_${id}`) }))}
        />
      ) : null}
      <Pick legend={t("gate_rain")} value={weather.rain} onPick={(rain) => change({ rain })} options={(["within_day", "later"] as const).map((id) => ({ id, label: t(`gate_rain_${id}`) }))} />
      <Pick
        legend={t("gate_wind")} columns={3} value={weather.wind} onPick={(wind) => change({ wind })}
        options={(["calm", "breeze", "strong"] as const).map((id) => ({ id, label: t(`gate_wind_${id}`) }))}
      />
    </>
  );
}

/** How many days the wall has had since it was soaked; null while that day is not known. */
function daysSince(wet_on: string | null, today: string): number | null {
  return wet_on !== null && /^\d{4}-\d\d-\d\d$/.test(wet_on) ? dayNumber(today) - dayNumber(wet_on) : null;
}

function Drying({ wet_on, today }: { wet_on: string | null; today: string }) {
  const days = daysSince(wet_on, today);
  if (days === null || days < 0) return null;
  // The wait is over by the longest figure: nothing to say but to look.
  const left = daysLeftToDry(days).high > 0;
  return (
    <p class="hint">
      {left ? t("gate_drying", { low: showNumber(DRYING_DAYS.low, 1), high: showNumber(DRYING_DAYS.high, 0), n: days }) : ""} {t("gate_drying_look")}
    </p>
  );
}

type WallProps = { wall: WallNow; change: (fields: Partial<WallNow>) => void; today: string };

export function WallFields({ wall, change, today }: WallProps) {
  const future = (daysSince(wall.wet_on, today) ?? 0) < 0;
  return (
    <>
      <Pick legend={t("gate_wall")} value={wall.dry} onPick={(dry) => change({ dry })} options={(["dry", "wet"] as const).map((id) => ({ id, label: t(`gate_wall_${id}`) }))} />
      <TextField label={t("gate_wet_on")} type="date" value={wall.wet_on ?? ""} onInput={(wet_on) => change({ wet_on: wet_on || null })} wrong={future ? t("gate_wet_future") : null} />
      <Drying wet_on={wall.wet_on} today={today} />
      <div class="gate-ticks">
        <Toggle label={t("gate_sun")} on={wall.sun} onChange={(sun) => change({ sun })} />
        <Toggle label={t("gate_covered")} on={wall.covered} onChange={(covered) => change({ covered })} />
        <Toggle label={t("gate_frozen")} on={wall.frozen} onChange={(frozen) => change({ frozen })} />
      </div>
    </>
  );
}
