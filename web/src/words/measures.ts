/** Numbers as this device shows them: metric or US measures, the decimal mark and the date of its language. */
import { convert } from "../model/units";
import { settings } from "../store";
import { locale, t } from "./index";

export const M_PER_FT = convert(1, "ft", "m");
const MM_PER_IN = convert(1, "in", "mm");
const KG_PER_LB = convert(1, "lb", "kg");
const L_PER_GAL = convert(1, "us_gal", "l");
const L_PER_TBSP = convert(1, "tbsp", "l");

export const isUs = (): boolean => settings.value.measures === "us";

// Making one takes far longer than using it, and a wall may have thousands of figures.
const formats = new Map<string, Intl.NumberFormat>();

/** A plain number with at most `digits` decimals. */
export function showNumber(value: number, digits = 1): string {
  const key = `${locale()} ${digits}`;
  const format = formats.get(key) ?? new Intl.NumberFormat(locale(), { maximumFractionDigits: digits });
  formats.set(key, format);
  return format.format(value);
}

/** A number as a person would type it here: the decimal mark of the language, nothing between the thousands. */
export function typedNumber(value: number): string {
  return new Intl.NumberFormat(locale(), { maximumFractionDigits: 6, useGrouping: false }).format(value);
}

/** A number and its unit, which no line end may part. */
export const withUnit = (value: number, unit: string, digits = 1): string => `${showNumber(value, digits)}\u00a0${unit}`;

/** Of a range whose ends have the same unit, the lower end without it: "44 to 84 L". */
export function lowEnd(low: string, high: string): string {
  const unit = /\u00a0[^\u00a0]+$/.exec(high)?.[0] ?? "";
  return unit && low.endsWith(unit) ? low.slice(0, -unit.length) : low;
}

/** Both ends of a range in words, the unit once. */
export const rangeEnds = (low: string, high: string): { low: string; high: string } => ({ low: lowEnd(low, high), high });

/** Few digits for big numbers, more for small ones: three figures that count. */
const digitsFor = (value: number) => (Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : 2);

export function showMetres(value_m: number): string {
  const value = isUs() ? value_m / M_PER_FT : value_m;
  return withUnit(value, isUs() ? "ft" : "m", digitsFor(value));
}

export function showMm(value_mm: number): string {
  return isUs() ? withUnit(value_mm / MM_PER_IN, "in", 2) : withUnit(value_mm, "mm", 1);
}

/** A limit in mm as it may be typed here: rounded down, so that whoever types it is not refused. */
export const showMostMm = (most_mm: number): string => (isUs() ? withUnit(Math.floor((most_mm / MM_PER_IN) * 10) / 10, "in", 1) : showMm(most_mm));

export function showArea(value_m2: number): string {
  const value = isUs() ? value_m2 / (M_PER_FT * M_PER_FT) : value_m2;
  return withUnit(value, isUs() ? "ft²" : "m²", digitsFor(value));
}

export function showMass(value_kg: number): string {
  if (isUs()) return value_kg < KG_PER_LB ? withUnit((value_kg / KG_PER_LB) * 16, "oz", 1) : withUnit(value_kg / KG_PER_LB, "lb", 1);
  return value_kg < 1 ? withUnit(value_kg * 1000, "g", 0) : withUnit(value_kg, "kg", 1);
}

/** Spoons for what is poured by the spoon, litres or gallons for the rest. */
export function showVolume(value_l: number): string {
  if (value_l < 0.25) {
    return isUs() ? withUnit(value_l / L_PER_TBSP, t("spoon_short"), 1) : withUnit(value_l * 1000, "mL", 0);
  }
  return isUs() ? withUnit(value_l / L_PER_GAL, "gal", 1) : withUnit(value_l, "L", 1);
}

/** Room on the phone, in the units its own settings use: three figures that count. */
export function showBytes(bytes: number): string {
  const [value, unit] = bytes >= 1e9 ? [bytes / 1e9, "GB"] : [bytes / 1e6, "MB"];
  return withUnit(value, unit, value >= 100 ? 0 : 1);
}

export function showPercent(share: number): string {
  return new Intl.NumberFormat(locale(), { style: "percent", maximumFractionDigits: 0 }).format(share);
}

export function showDate(iso: string): string {
  const date = iso.length === 10 ? new Date(`${iso}T12:00:00`) : new Date(iso);
  return new Intl.DateTimeFormat(locale(), { day: "numeric", month: "short", year: "numeric" }).format(date);
}

export function showTime(iso: string): string {
  return new Intl.DateTimeFormat(locale(), { hour: "2-digit", minute: "2-digit" }).format(new Date(iso));
}

/** A moment as people say it: the day of the week within six days, else the date; and the time. */
export function showSince(iso: string, now: string): string {
  const near = Date.parse(now) - Date.parse(iso) < 6 * 86_400_000;
  const day = near ? new Intl.DateTimeFormat(locale(), { weekday: "long" }).format(new Date(iso)) : showDate(iso);
  return `${day} ${showTime(iso)}`;
}

const COMPASS = ["N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"];

/** The nearest of sixteen compass points; west is W in English and O in Spanish. */
export function showBearing(deg: number): string {
  const point = COMPASS[Math.round((((deg % 360) + 360) % 360) / 22.5) % 16] ?? "N";
  return point.replaceAll("W", t("west_short"));
}

/** Read a number typed with a decimal point or comma; null when it is none. */
export function parseNumber(text: string): number | null {
  const clean = text.trim().replace(",", ".");
  if (!/^-?\d*\.?\d+$|^-?\d+\.$/.test(clean)) return null;
  return Number(clean);
}

/** Lengths are typed in the device's measures and stored in metric. */
export const lengthUnit = (): string => (isUs() ? "ft" : "m");
export const smallUnit = (): string => (isUs() ? "in" : "mm");
export const metresFromTyped = (typed: number | null): number | null => (typed === null ? null : isUs() ? typed * M_PER_FT : typed);
export const typedFromMetres = (value_m: number | null): number | null =>
  value_m === null ? null : isUs() ? Number((value_m / M_PER_FT).toFixed(3)) : value_m;
export const mmFromTyped = (typed: number | null): number | null => (typed === null ? null : isUs() ? typed * MM_PER_IN : typed);
export const typedFromMm = (value_mm: number | null): number | null =>
  value_mm === null ? null : isUs() ? Number((value_mm / MM_PER_IN).toFixed(3)) : value_mm;
export const areaUnit = (): string => (isUs() ? "ft²" : "m²");
export const areaFromTyped = (typed: number | null): number | null => (typed === null ? null : isUs() ? convert(typed, "ft2", "m2") : typed);
export const typedFromArea = (area_m2: number | null): number | null =>
  area_m2 === null ? null : Number((isUs() ? convert(area_m2, "m2", "ft2") : area_m2).toFixed(3));
export const volumeUnit = (): string => (isUs() ? "gal" : "L");
export const massUnit = (): string => (isUs() ? "lb" : "kg");
export const litresFromTyped = (typed: number | null): number | null => (typed === null ? null : isUs() ? typed * L_PER_GAL : typed);
export const typedFromLitres = (value_l: number | null): number | null =>
  value_l === null ? null : isUs() ? Number((value_l / L_PER_GAL).toFixed(2)) : value_l;
export const kilosFromTyped = (typed: number | null): number | null => (typed === null ? null : isUs() ? typed * KG_PER_LB : typed);
export const typedFromKilos = (value_kg: number | null): number | null =>
  value_kg === null ? null : isUs() ? Number((value_kg / KG_PER_LB).toFixed(2)) : value_kg;

/** How an amount is asked for: its unit, and the way to and from what is kept. */
export type Asked = { unit: string; typed: (kept: number | null) => number | null; kept: (typed: number | null) => number | null };
const askedIn = (unit: string, one: number, digits: number): Asked => ({
  unit,
  typed: (kept) => (kept === null ? null : Number((kept / one).toFixed(digits))),
  kept: (typed) => (typed === null ? null : typed * one),
});
/** A mass or volume is asked for in the unit that an amount near it is shown in, so that nobody copies grams into kilograms. */
export function massAsked(near_kg: number): Asked {
  if (isUs()) return near_kg < KG_PER_LB ? askedIn("oz", KG_PER_LB / 16, 1) : askedIn("lb", KG_PER_LB, 2);
  return near_kg < 1 ? askedIn("g", 0.001, 0) : askedIn("kg", 1, 3);
}
export function volumeAsked(near_l: number): Asked {
  if (near_l < 0.25) return isUs() ? askedIn(t("spoon_short"), L_PER_TBSP, 1) : askedIn("mL", 0.001, 0);
  return isUs() ? askedIn("gal", L_PER_GAL, 2) : askedIn("L", 1, 3);
}
