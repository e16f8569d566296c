/** Words of a plan: people, skills, hours of the day, reasons, and what a visit is. */
import { ANYBODY } from "../../../model/planning/hours";
import type { Block, Job } from "../../../model/planning/shapes";
import { row } from "../../../store";
import { isSentence, t } from "../../../words";
import { mixThenCoat } from "../../../parts/ticket/coatWords";
import { ticketName } from "../../../parts/ticket/gathered";

export const personWords = (person: string, n: number): string => person.trim() || t("crew_nobody", { n: n + 1 });

export function skillShort(skill: string): string {
  const key = `can_${skill}`;
  return isSentence(key) ? t(key) : skill.replaceAll("_", " ");
}

/** 1.5 as 1:30, counted from the start of work. */
export function clockWords(hours: number): string {
  const minutes = Math.round(hours * 60);
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`;
}

export function jobName(id: string): string {
  const ticket = row("ticket", id);
  return ticket ? ticketName(ticket) : t("defects_gone");
}

/** Short enough for a block on the board. */
export function jobNumber(id: string): string {
  const number = row("ticket", id)?.number ?? null;
  return number === null ? "•" : String(number);
}

/** "prepare the wall", "lay lime coat (Coat 2)", "do it". */
export function visitWords(block: Block, job: Job | undefined): string {
  const visit = job?.visits[block.visit];
  if (!visit || visit.kind === "work") return t("visit_work");
  if (visit.kind === "prepare") return t("visit_prepare");
  return t("visit_lay", { coat: mixThenCoat([...new Set(visit.portions.map((one) => one.mix))], visit.place) });
}

const skillsOf = (job: Job | undefined): string[] => [...new Set(job?.visits.map((visit) => visit.skill))].filter((skill) => skill !== ANYBODY);

/** Why a ticket waits, is left out, or wants care. */
export function reasonWords(code: string, job: Job | undefined): string {
  if (code === "no_skill") return t("why_no_skill", { skill: skillsOf(job).map(skillShort).join(", ") });
  const key = `why_${code}`;
  return isSentence(key) ? t(key) : t("why_other");
}
