/**
 * The plan of a work day and the days after it: which tickets in which order, who does what, what waits. Twin of
 * science/planning/work_day.py, held to it by shared/vectors/work_day.json. Hours are assumed, the same people come each day.
 */
import { Refusal } from "../refusal";
import type { Id } from "../types";
import { type CuringCoat, curingPlan, dateOfDay, dayNumber } from "../waiting/curing";
import { ANYBODY } from "./hours";
import { type Stretch, shareBatches } from "./mixing";
import { byTurn } from "./order";
import type { Ask, Block, Crew, Job, JobReason, Plan, PlannedDay, Visit, Waits } from "./shapes";
import { type ByDate, judgeDay } from "./weather";

const NOTHING = 1e-9;
/** Nobody begins something new for less than a quarter of an hour (assumed). */
const LEAST_H = 0.25;
const MOST_DAYS = 90;

/** How far one ticket has come; `skilled` are those who can do each of its visits. */
type Standing = { job: Job; skilled: number[][]; ready: string; visit: number; done_h: number; code: string | null };
/** One day as it fills up. */
type Today = { on: string; crew: readonly Crew[]; going: readonly Standing[]; busy_h: number[]; blocks: Block[]; cautions: Map<string, JobReason> };
type Share = { worker: number; from_h: number; hours: number };

const through = (one: Standing): boolean => one.visit >= one.job.visits.length;
const begun = (one: Standing): boolean => one.visit > 0 || one.done_h > 0;
const able = (one: Standing): number[] => one.skilled[one.visit] ?? [];
const leftH = (one: Standing): number => (one.job.visits[one.visit]?.hours.likely ?? 0) - one.done_h;
const why = (one: Standing): JobReason => ({ job: one.job.id, code: one.code ?? "no_hours" });

/** The days with work and who does what, and every ticket left out with its reason. Throws a Refusal: date_refused, hours_refused, out_of_range. */
export function planWork(ask: Ask): Plan {
  const start = check(ask);
  const standing = [...ask.jobs].sort(byTurn).map((job) => stand(job, ask));
  const going = standing.filter((one) => one.code === null);
  const forecast: ByDate = new Map(ask.forecast.map((day) => [day.on, day]));
  const days = Array.from({ length: ask.days }, (_, n) => planDay(dateOfDay(start + n), going, ask, forecast));
  return {
    days: days.filter((day) => day.blocks.length > 0),
    left_out: standing.filter((one) => !begun(one)).map(why),
    goes_on: standing.filter((one) => begun(one) && !through(one)).map((one) => one.job.id),
  };
}

/** Whether a person has a skill, by itself or within another. */
export const canDo = (worker: Crew, skill: string, covers: Ask["covers"]): boolean =>
  skill === ANYBODY || worker.skills.some((own) => own === skill || covers[own]?.includes(skill));

function stand(job: Job, ask: Ask): Standing {
  const skilled = job.visits.map((visit) => ask.crew.flatMap((one, n) => (one.hours > 0 && canDo(one, visit.skill, ask.covers) ? [n] : [])));
  const one: Standing = { job, skilled, ready: ask.start, visit: 0, done_h: 0, code: null };
  return { ...one, code: job.left_out ?? never(one, ask.crew) };
}

/** Why a ticket cannot be planned on any day with these people; null if it can. */
function never({ job, skilled }: Standing, crew: readonly Crew[]): string | null {
  if (!crew.some((worker) => worker.hours > 0)) return "no_people";
  if (job.visits.length === 0) return "no_size";
  if (skilled.some((who) => who.length === 0)) return "no_skill";
  const hoursOf = (who: readonly number[]) => who.reduce((sum, n) => sum + (crew[n]?.hours ?? 0), 0);
  return job.visits.some((visit, n) => visit.coat && visit.hours.likely > hoursOf(skilled[n] ?? []) + NOTHING) ? "too_long" : null;
}

function planDay(on: string, going: readonly Standing[], ask: Ask, forecast: ByDate): PlannedDay {
  const today: Today = { on, crew: ask.crew, going, busy_h: ask.crew.map(() => 0), blocks: [], cautions: new Map() };
  for (const one of going) workOn(one, today, forecast);
  const worked = new Set(today.blocks.map((block) => block.job));
  return {
    on, blocks: [...today.blocks].sort((a, b) => a.worker - b.worker || a.from_h - b.from_h), batches: batchesOf(today.blocks, going, ask),
    waits: going.filter((one) => !through(one)).map(why), cautions: [...today.cautions.values()].filter((caution) => worked.has(caution.job)),
  };
}

/** Take up the ticket's visits one after the other until something stands against the next. */
function workOn(one: Standing, today: Today, forecast: ByDate): void {
  let from_h = 0;
  let team: number[] = [];
  for (let visit = one.job.visits[one.visit]; visit; visit = one.job.visits[one.visit]) {
    one.code = stopped(one, today, forecast);
    if (one.code !== null) return;
    const shares = sharesOf(one, visit, today, from_h, team);
    book(one, shares, today);
    if (shares.length === 0 || leftH(one) > NOTHING) {
      one.code = "no_hours";
      return;
    }
    from_h = Math.max(from_h, ...shares.map((share) => share.from_h + share.hours));
    team = shares.map((share) => share.worker);
    one.visit += 1;
    one.done_h = 0;
    one.ready = visit.coat ? nextCoatOn(today.on, visit.coat) : today.on;
  }
}

/** The likely day for the coat after one laid on `on`, as the curing plan says. */
export function nextCoatOn(on: string, { damp_days, interval_days, frost_free_days }: Waits): string {
  const mix = { kind: "plaster" as const, rich: 0, stipple: true, coverage_m2_per_l: null, coat_mm: null };
  const plain: CuringCoat = { thickness_mm: 0, mix, damp_days, interval_days, frost_free_days };
  return curingPlan(on, [plain, plain], []).steps.find((step) => step.kind === "lay" && step.coat === 1)?.likely ?? on;
}

function stopped(one: Standing, today: Today, forecast: ByDate): string | null {
  if (today.on < one.ready) return "curing";
  const coat = coatAhead(one.job.visits, one.visit);
  if (coat === null) return null;
  const answer = judgeDay(one.job, coat, today.on, forecast);
  if (answer.stop === null) {
    for (const code of answer.cautions) today.cautions.set(`${one.job.id} ${code}`, { job: one.job.id, code });
  }
  return answer.stop;
}

/** A wall is opened up only on a day on which it could be coated too. */
function coatAhead(visits: readonly Visit[], place: number): Waits | null {
  const [here, next] = [visits[place], visits[place + 1]];
  return (here?.kind === "prepare" && next ? next.coat : here?.coat) ?? null;
}

type Free = { n: number; starts: number; hours: number };

/** Who works on the visit today and for how long; nobody where a coat cannot be finished today. */
function sharesOf(one: Standing, visit: Visit, today: Today, from_h: number, team: readonly number[]): Share[] {
  const free = able(one).map((n): Free => {
    const starts = Math.max(today.busy_h[n] ?? 0, from_h);
    return { n, starts, hours: (today.crew[n]?.hours ?? 0) - starts };
  });
  const need = leftH(one);
  const best = bestAlone(free.filter((of) => of.hours >= need - NOTHING), one, today, team);
  if (best) return [{ worker: best.n, from_h: best.starts, hours: need }];
  const shares: Share[] = [];
  let left = need;
  for (const { n, starts, hours } of [...free].sort((a, b) => b.hours - a.hours || a.n - b.n)) {
    const share = Math.min(hours, left);
    if (share < Math.min(LEAST_H, left) || share <= NOTHING) continue;
    shares.push({ worker: n, from_h: starts, hours: share });
    left -= share;
  }
  return left <= NOTHING || visit.coat === null ? shares : [];
}

/** Of those who could do it alone: who is at it already, then who is not wanted elsewhere, then who is free first. */
function bestAlone(alone: readonly Free[], one: Standing, today: Today, team: readonly number[]): Free | undefined {
  if (alone.length < 2) return alone[0];
  const ranked = alone.map((of) => ({ of, stranger: Number(!team.includes(of.n)), wanted: Number(isWanted(of.n, one, today)) }));
  ranked.sort((a, b) => a.stranger - b.stranger || a.wanted - b.wanted || a.of.starts - b.of.starts || a.of.n - b.of.n);
  return ranked[0]?.of;
}

/** Whether something that fewer people can do waits for this person today: a ticket's next visit or the one after. */
function isWanted(worker: number, one: Standing, today: Today): boolean {
  const fewer = (who: readonly number[] | undefined) => who !== undefined && who.length < able(one).length && who.includes(worker);
  return today.going.some((other) => other.ready <= today.on && (fewer(other.skilled[other.visit]) || fewer(other.skilled[other.visit + 1])));
}

function book(one: Standing, shares: readonly Share[], today: Today): void {
  for (const { worker, from_h, hours } of shares) {
    today.blocks.push({ worker, job: one.job.id, visit: one.visit, from_h, to_h: from_h + hours });
    today.busy_h[worker] = from_h + hours;
    one.done_h += hours;
  }
}

function batchesOf(blocks: readonly Block[], going: readonly Standing[], ask: Ask): PlannedDay["batches"] {
  const jobs = new Map<Id, Job>(going.map((one) => [one.job.id, one.job]));
  const stretches = blocks.flatMap(({ job: id, visit: place, from_h, to_h }): Stretch[] => {
    const job = jobs.get(id);
    const visit = job?.visits[place];
    if (!job || !visit) return [];
    const share = (to_h - from_h) / visit.hours.likely;
    return visit.portions.map(({ mix, litres }) => ({ job: id, mix, place: job.place, from_h, to_h, litres: litres * share }));
  });
  return shareBatches(stretches, ask.mixes);
}

function check(ask: Ask): number {
  if (!(ask.days >= 1 && ask.days <= MOST_DAYS)) throw new Refusal("out_of_range", { days: "range" });
  const visits = ask.jobs.flatMap((job) => job.visits);
  if (!ask.crew.every((one) => one.hours >= 0 && one.hours <= 24) || !visits.every((one) => one.hours.likely > 0 && one.hours.likely < 10_000)) {
    throw new Refusal("hours_refused", { hours: "range" });
  }
  return dayNumber(ask.start);
}
