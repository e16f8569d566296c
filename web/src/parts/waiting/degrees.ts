/** Temperatures as this device shows and takes them. */
import { celsiusFromFahrenheit, fahrenheitFromCelsius } from "../../model/units";
import { isUs, withUnit } from "../../words/measures";

export const degreeUnit = (): string => (isUs() ? "°F" : "°C");
export const celsiusFromTyped = (typed: number | null): number | null => (typed === null ? null : isUs() ? celsiusFromFahrenheit(typed) : typed);
export const typedFromCelsius = (value_c: number | null): number | null =>
  value_c === null ? null : isUs() ? Number(fahrenheitFromCelsius(value_c).toFixed(1)) : value_c;
export const showDegrees = (value_c: number): string => withUnit(isUs() ? fahrenheitFromCelsius(value_c) : value_c, degreeUnit(), 0);
