/** Sums of ranges, end by end; right for quantities that are never negative. Twin of science/range.py. */
import type { Range } from "../types";

export const exactly = (value: number): Range => ({ low: value, likely: value, high: value });
export const times = (one: Range, other: Range): Range => ({
  low: one.low * other.low, likely: one.likely * other.likely, high: one.high * other.high,
});
export const scaled = (one: Range, factor: number): Range => times(one, exactly(factor));
export const plus = (one: Range, other: Range): Range => ({
  low: one.low + other.low, likely: one.likely + other.likely, high: one.high + other.high,
});
export const total = (ranges: readonly Range[]): Range => ranges.reduce(plus, exactly(0));
/** 1 + share, the factor by which a loss or a bulking swells an amount. */
export const oneAnd = (share: Range): Range => plus(exactly(1), share);
