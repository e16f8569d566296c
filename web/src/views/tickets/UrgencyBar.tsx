/** How many tickets there are of each urgency: one bar, told apart by ground and hatch, with the numbers on it. */
import type { Urgency } from "../../model/types";
import { vocabularyWord } from "../../words/vocabulary";
import type { Listed } from "./TicketRow";

type Props = { shown: readonly Listed[]; order: readonly Urgency[] };
const LEAST_WIDTH = 26;

/** What the grounds of the bar mean; the bar itself is said in full. */
function Key({ shown }: { shown: readonly Urgency[] }) {
  return (
    <ul class="urgency-key" aria-hidden="true">
      {shown.map((urgency) => <li key={urgency}><svg class="urgency-bar" viewBox="0 0 24 18"><g class={`bar-${urgency}`}><rect x="1" y="1" width="22" height="16" /></g></svg>{vocabularyWord("urgencies", urgency)}</li>)}
    </ul>
  );
}

export function UrgencyBar({ shown, order }: Props) {
  const counts = order.map((urgency) => ({ urgency, n: shown.filter((one) => one.urgency === urgency).length })).filter((one) => one.n > 0);
  if (counts.length === 0) return null;
  const free = 358 - LEAST_WIDTH * counts.length;
  let at = 1;
  const words = counts.map(({ urgency, n }) => `${vocabularyWord("urgencies", urgency)}: ${n}`).join(", ");
  return (
    <>
      <svg class="urgency-bar" viewBox="0 0 360 34" role="img" aria-label={words}>
        <defs>
          <pattern id="urgency-rain" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="7" height="7" fill="#fff" /><path d="M0 0V7" stroke="var(--clay)" stroke-width="4" /></pattern>
          <pattern id="urgency-season" width="6" height="6" patternUnits="userSpaceOnUse"><rect width="6" height="6" fill="var(--ground, #f6eeda)" /><circle cx="3" cy="3" r="1.3" fill="var(--ochre)" /></pattern>
        </defs>
        {counts.map(({ urgency, n }) => {
          const width = LEAST_WIDTH + (free * n) / shown.length;
          const x = at;
          at += width;
          return (
            <g key={urgency} class={`bar-${urgency}`}>
              <rect x={x} y="1" width={width} height="32" />
              <rect class="bar-plate" x={x + width / 2 - 12} y="6" width="24" height="22" rx="5" />
              <text x={x + width / 2} y="22" text-anchor="middle">{n}</text>
            </g>
          );
        })}
      </svg>
      <Key shown={counts.map((one) => one.urgency)} />
    </>
  );
}
