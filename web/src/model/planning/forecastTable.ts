/** A forecast pasted or read from a file: one day a line, date, low, high and rain, split by comma, semicolon or tab. */
import { Refusal } from "../refusal";
import { dayNumber } from "../waiting/curing";
import type { Forecast } from "./shapes";

export type LineFault = "columns" | "date" | "number" | "range" | "upside_down" | "twice" | "too_many";
export type WrongLine = { line: number; why: LineFault };
export type ReadForecast = { days: Forecast[]; wrong: WrongLine[] };
/** How a figure as written becomes °C or mm. */
export type AsWritten = { celsius: (value: number) => number; mm: (value: number) => number };

/** As many as a work day takes, and as cold, hot and wet as it takes. */
export const MOST_DAYS = 60;
const DEGREES_C = 60;
const RAIN_MM = 2000;
const METRIC: AsWritten = { celsius: (value) => value, mm: (value) => value };

const splitter = (text: string): string => (text.includes("\t") ? "\t" : text.includes(";") ? ";" : ",");

/** A decimal comma is one where it does not split the columns. */
function numberIn(cell: string | undefined, split: string): number | null | "none" {
  const text = (cell ?? "").trim();
  if (text === "" || text === "-") return null;
  const plain = split === "," ? text : text.replace(",", ".");
  return /^[-+−]?\d+(\.\d+)?$/.test(plain) ? Number(plain.replace("−", "-")) : "none";
}

function isDate(text: string): boolean {
  try {
    return dayNumber(text) > 0;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return false;
  }
}

function readLine(cells: readonly string[], split: string, as: AsWritten): Forecast | LineFault {
  const on = (cells[0] ?? "").trim();
  if (!isDate(on)) return "date";
  if (cells.length !== 4) return "columns";
  const [low, high, rain] = [1, 2, 3].map((n) => numberIn(cells[n], split));
  if (low === "none" || high === "none" || rain === "none") return "number";
  const day = { on, low_c: low == null ? null : as.celsius(low), high_c: high == null ? null : as.celsius(high), rain_mm: rain == null ? null : as.mm(rain) };
  if (Math.abs(day.low_c ?? 0) > DEGREES_C || Math.abs(day.high_c ?? 0) > DEGREES_C || (day.rain_mm ?? 0) < 0 || (day.rain_mm ?? 0) > RAIN_MM) return "range";
  return day.low_c !== null && day.high_c !== null && day.low_c > day.high_c ? "upside_down" : day;
}

/** The days that could be read, in order of their date, and each wrong line by its number, counted from 1. A heading in the first line is passed over. */
export function readForecast(text: string, as: AsWritten = METRIC): ReadForecast {
  const days = new Map<string, Forecast>();
  const wrong: WrongLine[] = [];
  const split = splitter(text);
  text.replace(/^\uFEFF/, "").split(/\r\n|\r|\n/).forEach((line, i) => {
    if (line.trim() === "") return;
    const found = readLine(line.split(split), split, as);
    // A heading has no figure in it at all.
    if (found === "date" && i === 0 && !/\d/.test(line)) return;
    if (typeof found === "string") wrong.push({ line: i + 1, why: found });
    else if (days.has(found.on)) wrong.push({ line: i + 1, why: "twice" });
    else if (days.size >= MOST_DAYS) wrong.push({ line: i + 1, why: "too_many" });
    else days.set(found.on, found);
  });
  return { days: [...days.values()].sort((a, b) => (a.on < b.on ? -1 : 1)), wrong };
}
