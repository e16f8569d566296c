/**
 * One finish through its looks: last seen sound, first seen let go, in days and in driving rain between.
 * The same in server/makegood/domain/ledger/follow.py; shared/vectors/ledger.json holds both to one answer.
 */
import type { Id, Mark, ReadingState, Score, StepKind, Surface } from "../types";
import { type Laid, finishAt, stoodOn } from "./place";

export type Verdict = Score["verdict"];
export type Source = "score" | "reading" | "step" | "survey";
export type Sighting = { on: string; verdict: Verdict; source: Source; id: Id };
/** What one storm drove onto a finish; null where it isn't known. */
export type RainOn = { on: string; l_m2: number | null };
export type LookAt = { id: Id; on: string; state?: ReadingState | null; survey_id?: Id | null; mark?: Mark | null };
export type Side = {
  surface: Surface;
  finishes: readonly Laid[];
  scores: readonly { id: Id; finish_id: Id; on: string; verdict: Verdict }[];
  defects: readonly { id: Id; kind: string | null; mark: Mark; readings: readonly LookAt[] }[];
  /** Surveys that looked at this side all over. */
  walks: readonly { id: Id; on: string }[];
  steps: readonly { id: Id; ticket_id: Id; kind: StepKind; on: string }[];
  /** By finish: parts of a round wall or a dome face many ways. */
  rain: Readonly<Record<Id, readonly RainOn[]>>;
};
/** Last known sound, first known let go; `right` null: not let go as far as anybody looked. */
export type Span = { left: number; right: number | null };
export type Followed = {
  id: Id;
  verdict: Verdict | "not_looked" | "no_day";
  looks: number;
  days: Span | null;
  /** Null where rain before its right end isn't known. */
  l_m2: Span | null;
  sightings: Sighting[];
};
/** What a kind of defect tells of the finish it is on; other kinds tell nothing. */
export type KindVerdicts = Readonly<Record<string, Verdict>>;

const WORSE: readonly Verdict[] = ["held", "worn", "let_go"];
const STEPS: Partial<Record<StepKind, Verdict>> = { checked: "held", rechecked: "held", reopened: "let_go" };
const DAY_MS = 86_400_000;

export const daysBetween = (from: string, to: string): number => Math.round((Date.parse(to) - Date.parse(from)) / DAY_MS);
const byDay = (a: { on: string; id: string }, b: { on: string; id: string }): number => (a.on !== b.on ? (a.on < b.on ? -1 : 1) : a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

type Seen = Map<Id, Sighting[]>;

/** What is known of each finish of a side, in the order given. */
export function follow(side: Side, verdicts: KindVerdicts): Followed[] {
  const seen: Seen = new Map(side.finishes.map((one) => [one.id, []]));
  for (const { id, finish_id, on, verdict } of side.scores) seen.get(finish_id)?.push({ on, verdict, source: "score", id });
  const told = byDefects(side, verdicts, seen);
  bySteps(side, seen);
  byWalks(side, told, seen);
  return side.finishes.map((one) => followed(one, seen.get(one.id) ?? [], side.rain[one.id] ?? []));
}

/** Adds what readings tell; gives back which finish was told of on which survey. */
function byDefects(side: Side, verdicts: KindVerdicts, seen: Seen): Set<string> {
  const told = new Set<string>();
  for (const defect of side.defects) {
    const verdict = verdicts[defect.kind ?? ""];
    let mark = defect.mark;
    for (const look of [...defect.readings].sort(byDay)) {
      mark = look.mark ?? mark;
      if (!verdict || look.state === "repaired") continue;
      const under = finishAt(side.surface, side.finishes, mark, look.on);
      if (!under) continue;
      seen.get(under.id)?.push({ on: look.on, verdict, source: "reading", id: look.id });
      told.add(`${under.id} ${look.survey_id ?? ""}`);
    }
  }
  return told;
}

function bySteps(side: Side, seen: Seen): void {
  for (const laid of side.finishes) {
    for (const step of side.steps) {
      const verdict = STEPS[step.kind];
      if (verdict && laid.ticket_id !== null && step.ticket_id === laid.ticket_id) seen.get(laid.id)?.push({ on: step.on, verdict, source: "step", id: step.id });
    }
  }
}

/** A side looked at all over without a word against a finish saw it sound. */
function byWalks(side: Side, told: ReadonlySet<string>, seen: Seen): void {
  for (const walk of side.walks) {
    for (const laid of side.finishes) {
      if (stoodOn(laid, walk.on) && laid.made_on !== walk.on && !told.has(`${laid.id} ${walk.id}`)) {
        seen.get(laid.id)?.push({ on: walk.on, verdict: "held", source: "survey", id: walk.id });
      }
    }
  }
}

function followed(laid: Laid, all: readonly Sighting[], rain: readonly RainOn[]): Followed {
  const sightings = all.filter((one) => stoodOn(laid, one.on)).sort(byDay);
  const looks = new Set(sightings.map((one) => one.on)).size;
  if (laid.made_on === null) return { id: laid.id, verdict: "no_day", looks, days: null, l_m2: null, sightings };
  const gone = sightings.find((one) => one.verdict === "let_go")?.on ?? null;
  const lastGood = sightings.filter((one) => gone === null || one.on < gone).at(-1)?.on ?? laid.made_on;
  const days = { left: daysBetween(laid.made_on, lastGood), right: gone === null ? null : daysBetween(laid.made_on, gone) };
  return { id: laid.id, verdict: verdictOf(sightings, gone), looks, days, l_m2: inRain(laid.made_on, lastGood, gone, rain), sightings };
}

function verdictOf(seen: readonly Sighting[], gone: string | null): Followed["verdict"] {
  if (gone !== null) return "let_go";
  const worst = Math.max(...seen.map((one) => WORSE.indexOf(one.verdict)));
  return WORSE[worst] ?? "not_looked";
}

const sum = (rain: readonly RainOn[]): number => rain.reduce((all, one) => all + (one.l_m2 ?? 0), 0);

/** Rain on a finish after a day and up to another; null where part of it isn't known. */
export function rainBetween(rain: readonly RainOn[], after: string, upto: string): number | null {
  const fell = rain.filter((one) => after < one.on && one.on <= upto);
  return fell.some((one) => one.l_m2 === null) ? null : sum(fell);
}

function inRain(madeOn: string, lastGood: string, gone: string | null, rain: readonly RainOn[]): Span | null {
  const fell = rain.filter((one) => madeOn < one.on && one.on <= (gone ?? lastGood));
  const left = sum(fell.filter((one) => one.on <= lastGood));
  // Rain that isn't known can only add to what it was seen to stand.
  if (gone === null) return { left, right: null };
  return fell.some((one) => one.l_m2 === null) ? null : { left, right: sum(fell) };
}
