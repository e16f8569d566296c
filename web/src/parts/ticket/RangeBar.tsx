/** Low, likely and high on one line: a band with end strokes and a heavy tick; readable in grey. Its numbers stand in words beside it. */
import type { Range } from "../../model/types";
import "./ticket.css";

/** `of`: what the whole width stands for; left out, a little more than the high end. */
export function RangeBar({ range, of }: { range: Range; of?: number }) {
  const full = of ?? range.high * 1.04;
  if (!(full > 0)) return null;
  const x = (value: number) => 2 + (156 * Math.min(value, full)) / full;
  return (
    <svg class="range-bar" viewBox="0 0 160 16" aria-hidden="true" preserveAspectRatio="none">
      <path d="M2 8H158" stroke="var(--line)" stroke-width="2" />
      <rect x={x(range.low)} y="4" width={Math.max(1, x(range.high) - x(range.low))} height="8" fill="var(--ground, #aab0c4)" stroke="var(--indigo)" stroke-width="1.2" />
      <path d={`M${x(range.low)} 3V13M${x(range.high)} 3V13`} stroke="var(--indigo)" stroke-width="1.6" />
      <path d={`M${x(range.likely)} 1V15`} stroke="var(--ink)" stroke-width="3.6" />
    </svg>
  );
}
