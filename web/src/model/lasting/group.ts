/** Finishes of one sort side by side: how many held, through what, and between what the others let go. The same in domain/ledger/group.py. */
import type { Followed, Span } from "./follow";
import { type IntervalCurve, intervalCurve, tooFew } from "./turnbull";

export type Measure = "l_m2" | "days";
export type Group = {
  /** Looked at and measurable; held (worn ones too) and let_go add up to it. */
  followed: number; held: number; worn: number; let_go: number;
  /** What each of those that held was seen to stand at least. */
  held_through: number | null;
  /** The longest seen stood. */
  most: number | null;
  gone_between: { left: number; right: number }[];
  not_looked: number;
  /** No day of laying, or rain not known: left out of the rest. */
  not_known: number;
  too_few: boolean;
};

/** The interval of one finish by a measure; null where it wasn't looked at or cannot be told. */
export const spanOf = (one: Followed, measure: Measure): Span | null => (one.verdict === "not_looked" || one.verdict === "no_day" ? null : one[measure]);

const spansOf = (members: readonly Followed[], measure: Measure): Span[] => members.map((one) => spanOf(one, measure)).filter((span) => span !== null);

export function group(members: readonly Followed[], measure: Measure): Group {
  const known = members.filter((one) => spanOf(one, measure) !== null);
  const spans = spansOf(members, measure);
  const stood = spans.filter((span) => span.right === null).map((span) => span.left);
  const gone = spans.flatMap(({ left, right }) => (right === null ? [] : [{ left, right }])).sort((a, b) => a.left - b.left || a.right - b.right);
  const notLooked = members.filter((one) => one.verdict === "not_looked").length;
  return {
    followed: known.length, held: stood.length, worn: known.filter((one) => one.verdict === "worn").length, let_go: gone.length,
    held_through: stood.length ? Math.min(...stood) : null, most: spans.length ? Math.max(...spans.map((span) => span.left)) : null,
    gone_between: gone, not_looked: notLooked, not_known: members.length - known.length - notLooked, too_few: tooFew(known.length, gone.length),
  };
}

/** The survival curve of a group; null while there are too few to draw one. */
export function curveOf(members: readonly Followed[], measure: Measure): IntervalCurve | null {
  const spans = spansOf(members, measure);
  if (tooFew(spans.length, spans.filter((span) => span.right !== null).length)) return null;
  return intervalCurve(spans, null, true);
}
