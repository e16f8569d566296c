/** Kilograms and litres in the measures people have at hand: bags, buckets, cups, spoons; metric or US. Pure numbers, words come from views. */
import { UNITS } from "../units";
import { wholeUnits } from "./batch";

export type Measures = "metric" | "us";
export type VolumeUnit = "bucket" | "cup" | "tbsp";
export type MassUnit = "kg" | "g" | "lb" | "oz";
export type Measured<U> = { unit: U; amount: number };

/** US cup and spoon by definition, metric ones by kitchen custom. */
const CUP_L: Record<Measures, number> = { metric: 0.25, us: UNITS.cup[1] };
const TBSP_L: Record<Measures, number> = { metric: 0.015, us: UNITS.tbsp[1] };
/** Buckets and cups in quarters, spoons in halves: finer cannot be seen by eye. */
const QUARTER = 0.25;
const HALF = 0.5;

/** The usual bucket of a device's measures: 10 litres, or 5 US gallons filled to 4. */
export const usualBucketL = (measures: Measures): number => (measures === "us" ? 4 * UNITS.us_gal[1] : 10);

/** To the nearest multiple of `step`, but never nothing of something. */
export function roundTo(value: number, step: number): number {
  return value > 0 ? Math.max(step, Math.round(value / step) * step) : 0;
}

/** Up to the next multiple of `step`; a billionth over is no reason for one more. */
export const roundUpTo = (value: number, step: number): number => wholeUnits(value, step) * step;

/** A loose volume in the largest measure it fills a quarter of. */
export function measureOut(volume_l: number, bucket_l: number, measures: Measures): Measured<VolumeUnit> {
  if (volume_l >= QUARTER * bucket_l) return { unit: "bucket", amount: roundTo(volume_l / bucket_l, QUARTER) };
  const cup_l = CUP_L[measures];
  if (volume_l >= cup_l) return { unit: "cup", amount: roundTo(volume_l / cup_l, QUARTER) };
  return { unit: "tbsp", amount: roundTo(volume_l / TBSP_L[measures], HALF) };
}

/** The quarter buckets that hold a volume; null for what is less than a quarter of one. A billionth over is no reason for one more. */
export const bucketsFor = (volume_l: number, bucket_l: number): number | null => (volume_l < QUARTER * bucket_l ? null : roundUpTo(volume_l / bucket_l, QUARTER));

/** A mass as a kitchen scale or a bathroom scale shows it. */
export function weighOut(mass_kg: number, measures: Measures): Measured<MassUnit> {
  if (measures === "us") {
    const mass_lb = mass_kg / UNITS.lb[1];
    return mass_lb < 1 ? { unit: "oz", amount: roundTo(mass_kg / UNITS.oz[1], HALF) } : { unit: "lb", amount: roundTo(mass_lb, HALF) };
  }
  return mass_kg < 1 ? { unit: "g", amount: roundTo(mass_kg * 1000, 5) } : { unit: "kg", amount: roundTo(mass_kg, 0.1) };
}

/** Whole bags that hold at least this much. */
export const bagsFor = (mass_kg: number, bag_kg: number): number => wholeUnits(mass_kg, bag_kg);

/** An amount split into whole measures and quarters, for "2 buckets and three quarters". */
export function wholeAndQuarters(amount: number): { whole: number; quarters: 0 | 1 | 2 | 3 } {
  const quarters = Math.round(amount / QUARTER);
  return { whole: Math.floor(quarters / 4), quarters: (quarters % 4) as 0 | 1 | 2 | 3 };
}
