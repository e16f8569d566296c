/** Wind, rain and days of a storm as this device writes them; and rain judged by eye, which is words in the note and never a figure. */
import { convert } from "../../model/units";
import { RAIN_SCALES, meanRain_mm_h, rainClass } from "../../model/storm/scales";
import type { Storm } from "../../model/types";
import { type WordKey, locale, t } from "../../words";
import { storms as english } from "../../words/en/later/storms";
import { storms as spanish } from "../../words/es/later/storms";
import { isUs, showBearing, showMm, showNumber, withUnit } from "../../words/measures";

export const POINTS = [315, 0, 45, 270, null, 90, 225, 180, 135] as const;

export const speedUnit = (): string => (isUs() ? "mph" : "m/s");
export const speedFromTyped = (typed: number | null): number | null => (typed === null || !isUs() ? typed : convert(typed, "mph", "m_s"));
export const typedFromSpeed = (speed_m_s: number | null): number | null =>
  speed_m_s === null || !isUs() ? speed_m_s : Number(convert(speed_m_s, "m_s", "mph").toFixed(1));

export function showSpeed(speed_m_s: number): string {
  const shown = typedFromSpeed(speed_m_s) as number;
  return withUnit(shown, speedUnit(), isUs() ? 0 : 1);
}

/** The tile of a recorded direction: "" where none is known, none (null) between the eight points, so that no other is shown as kept. */
export function tileOf(from_deg: number | null): string | null {
  if (from_deg === null) return "";
  return from_deg % 45 === 0 ? String(from_deg % 360) : null;
}

/** "9 October", for names; the year stands beside them. */
export function dayAndMonth(day: string): string {
  return new Intl.DateTimeFormat(locale(), { day: "numeric", month: "long" }).format(new Date(`${day}T12:00:00`));
}

export function windWords(storm: Pick<Storm, "wind_m_s" | "wind_from_deg">): string {
  const { wind_m_s: speed, wind_from_deg: from } = storm;
  if (speed !== null && from !== null) return t("storms_wind_speed_from", { speed: showSpeed(speed), point: showBearing(from) });
  if (speed !== null) return showSpeed(speed);
  return from === null ? t("not_recorded") : t("storms_wind_from", { point: showBearing(from) });
}

export const showHours = (hours: number): string => t("storms_hours", { n: hours === 1 ? 1 : showNumber(hours, 1) });

export const RAIN_EYES = ["light", "steady", "heavy", "violent"] as const;
export type RainEye = (typeof RAIN_EYES)[number];

const eyeKey = (eye: RainEye) => `storms_eye_${eye}` as const;

/** The rain by eye in a note's first line, in whichever language it was written, and the rest of the note. */
export function splitNote(note: string | null): { eye: RainEye | null; rest: string } {
  const [first = "", ...others] = (note ?? "").split("\n");
  const eye = RAIN_EYES.find((one) => first === english[eyeKey(one)] || first === spanish[eyeKey(one)]) ?? null;
  return eye ? { eye, rest: others.join("\n") } : { eye: null, rest: note ?? "" };
}

export function joinNote(eye: RainEye | null, rest: string): string | null {
  const lines = [...(eye ? [t(eyeKey(eye))] : []), ...(rest ? [rest] : [])];
  return lines.length ? lines.join("\n") : null;
}

export function rainWords(storm: Storm): string {
  if (storm.rain_mm !== null) {
    const rain = showMm(storm.rain_mm);
    return storm.duration_h ? t("storms_rain_in", { rain, hours: showHours(storm.duration_h) }) : rain;
  }
  const { eye } = splitNote(storm.note);
  return eye ? t("storms_by_eye", { rain: t(`storms_rain_${eye}`) }) : t("not_recorded");
}

/** The storm's mean rain on each scale; null where it cannot be reckoned. The first scale is the one shown beside the figure. */
export function rainOnScales(storm: Storm): { scale: WordKey; name: string }[] | null {
  const rate = meanRain_mm_h(storm);
  if (rate === null) return null;
  return RAIN_SCALES.map((scale) => ({ scale: `storms_scale_${scale}` as const, name: t(`storms_rain_is_${rainClass(scale, rate)}`) }));
}

/** What stands small beside the amount of rain, naming the scale only on the storm's own page. */
export function rainAside(storm: Storm): string | null {
  const first = rainOnScales(storm)?.[0];
  return first ? t("storms_rain_class", { class: first.name }) : null;
}

/** The class of the wettest hour, with the name of its scale. */
export function peakAside(rain_1h_mm: number): string {
  return t("storms_peak_class", { class: t(`storms_rain_is_${rainClass(RAIN_SCALES[0], rain_1h_mm)}`), scale: t(`storms_scale_${RAIN_SCALES[0]}`) });
}

export function rainMeanWords(storm: Storm): string | null {
  const [rate, first] = [meanRain_mm_h(storm), rainOnScales(storm)?.[0]];
  if (rate === null || !first) return null;
  return t("storms_rain_mean", { rain: showMm(rate), class: first.name, scale: t(first.scale) });
}
