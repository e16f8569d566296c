/** All tickets of the plan against the days: each visit a square, the waits between them dashed. Its list twin are the days below. */
import { dayNumber } from "../../../model/waiting/curing";
import { t } from "../../../words";
import { showDate } from "../../../words/measures";
import { Card } from "../../../parts/frame/Card";
import { jobName, jobNumber } from "./dayWords";
import type { Planned } from "./planning";

const WIDTH = 358;
const LEFT = 34;
const ROW = 26;
const SQUARE = 12;

type Line = { job: string; days: number[] };

function linesOf({ plan }: Planned): Line[] {
  const start = dayNumber(plan.days[0]?.on ?? "1970-01-01");
  const lines = new Map<string, number[]>();
  for (const day of plan.days) {
    for (const job of new Set(day.blocks.map((block) => block.job))) lines.set(job, [...(lines.get(job) ?? []), dayNumber(day.on) - start]);
  }
  return [...lines].map(([job, days]) => ({ job, days }));
}

function StripRow({ line, y, x }: { line: Line; y: number; x: (day: number) => number }) {
  const [first, last] = [line.days[0] ?? 0, line.days.at(-1) ?? 0];
  return (
    <g>
      <text x="2" y={y + 5}>{jobNumber(line.job)}</text>
      {last > first ? <path d={`M${x(first)} ${y}H${x(last)}`} stroke="var(--edge)" stroke-width="3" stroke-dasharray="3 4" /> : null}
      {line.days.map((day) => <rect key={day} x={x(day) - SQUARE / 2} y={y - SQUARE / 2} width={SQUARE} height={SQUARE} rx="2" fill="var(--indigo)" />)}
    </g>
  );
}

export function WeeksStrip({ planned }: { planned: Planned }) {
  const lines = linesOf(planned);
  const days = planned.plan.days;
  const [from, to] = [days[0]?.on, days.at(-1)?.on];
  if (!from || !to || from === to) return null;
  const span = dayNumber(to) - dayNumber(from);
  const x = (day: number) => LEFT + SQUARE / 2 + (day * (WIDTH - LEFT - SQUARE - 2)) / span;
  const height = lines.length * ROW + 24;
  const said = lines.map((line) => `${jobName(line.job)}: ${t("strip_visits", { n: line.days.length })}`).join("; ");
  return (
    <Card title={t("strip_title")} aside={t("strip_span", { from: showDate(from), to: showDate(to) })}>
      <svg class="strip" viewBox={`0 0 ${WIDTH} ${height}`} role="img" aria-label={said}>
        {Array.from({ length: Math.floor(span / 7) + 1 }, (_, week) => (
          <g key={week}>
            <path d={`M${x(week * 7)} 2V${height - 20}`} stroke="var(--line)" />
            {week % Math.max(1, Math.ceil(span / 42)) === 0 ? <text x={Math.min(WIDTH - 12, x(week * 7))} y={height - 5} text-anchor="middle">{week === 0 ? "0" : `+${week * 7}`}</text> : null}
          </g>
        ))}
        {lines.map((line, n) => <StripRow key={line.job} line={line} y={14 + n * ROW} x={x} />)}
      </svg>
      <p class="hint">{t("strip_say")}</p>
    </Card>
  );
}
