/** Measures people use, exact by definition; no rounding, no formatting. Twin of science/units.py, where the sources stand. */
import { Refusal } from "./refusal";

const FOOT = 0.3048;
const INCH = 0.0254;
const POUND = 0.45359237;
const CUBIC_FOOT_L = FOOT ** 3 * 1000;
const GALLON_L = 231 * INCH ** 3 * 1000;

/** What a unit measures, and how many of the base unit it is: m, m2, L, kg, kg/L, m/s, L/m2. */
export const UNITS = {
  m: ["length", 1], mm: ["length", 0.001], cm: ["length", 0.01], in: ["length", INCH], ft: ["length", FOOT],
  m2: ["area", 1], ft2: ["area", FOOT ** 2], yd2: ["area", 9 * FOOT ** 2],
  l: ["volume", 1], ml: ["volume", 0.001], m3: ["volume", 1000], tbsp: ["volume", GALLON_L / 256], cup: ["volume", GALLON_L / 16],
  us_gal: ["volume", GALLON_L], ft3: ["volume", CUBIC_FOOT_L], yd3: ["volume", 27 * CUBIC_FOOT_L],
  us_bushel: ["volume", 2150.42 * INCH ** 3 * 1000],
  kg: ["mass", 1], g: ["mass", 0.001], lb: ["mass", POUND], oz: ["mass", POUND / 16],
  kg_l: ["density", 1], kg_m3: ["density", 0.001], lb_ft3: ["density", POUND / CUBIC_FOOT_L],
  m_s: ["speed", 1], km_h: ["speed", 1 / 3.6], mph: ["speed", (5280 * FOOT) / 3600], knot: ["speed", 1852 / 3600],
  rain_mm: ["rain", 1], rain_in: ["rain", 25.4],
} as const satisfies Record<string, readonly [kind: string, size: number]>;
export type UnitOfMeasure = keyof typeof UNITS;

/** A value in another unit of the same kind; throws Refusal `unit_mismatch`. */
export function convert(value: number, given: UnitOfMeasure, wanted: UnitOfMeasure): number {
  const [kind, size] = UNITS[given], [otherKind, otherSize] = UNITS[wanted];
  if (kind !== otherKind) throw new Refusal("unit_mismatch", { unit: `${given} to ${wanted}` });
  return given === wanted ? value : (value * size) / otherSize;
}

export const celsiusFromFahrenheit = (fahrenheit: number): number => (fahrenheit - 32) / 1.8;
export const fahrenheitFromCelsius = (celsius: number): number => celsius * 1.8 + 32;
