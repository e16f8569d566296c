/** How far a list has come: a field for each ticket, filled when done, half when taken, crossed where nobody may touch. */
import { t } from "../../../words";
import { type ListedJob, isThrough, toDo } from "./listed";

const WIDTH = 320;

function Field({ job, x, width }: { job: ListedJob; x: number; width: number }) {
  const taken = job.state === "taken";
  return (
    <g class={job.engineer ? "field-engineer" : isThrough(job) ? "field-done" : "field-open"}>
      <rect x={x} y="1" width={width} height="14" rx="3" />
      {job.engineer ? <path d={`M${x + 2} 3l${width - 4} 10`} stroke="#fff" stroke-width="2" /> : null}
      {taken && !job.engineer ? <rect class="field-half" x={x} y="1" width={width / 2} height="14" rx="3" /> : null}
    </g>
  );
}

export function ProgressBar({ jobs }: { jobs: readonly ListedJob[] }) {
  const work = toDo(jobs);
  const each = WIDTH / Math.max(1, jobs.length);
  return (
    <>
      <svg class="list-progress" viewBox={`0 0 ${WIDTH} 16`} preserveAspectRatio="none" aria-hidden="true">
        {jobs.map((job, n) => <Field key={job.id} job={job} x={1 + n * each} width={Math.max(1, each - 3)} />)}
      </svg>
      <small class="block">{t("handout_progress", { done: work.filter(isThrough).length, of: work.length })}</small>
    </>
  );
}
