/** What others did since the last look, in lines a person reads: photos and readings stand with what they came with. */
import { dayOf } from "../../model/storm/limits";
import type { News } from "../../store";
import { isSentence, t } from "../../words";
import { type Any, nameOf, ownerOf, pathOf, typeWords } from "./rowWords";
import { row } from "../../store";

/** `by`: who did it, null where a phone is not told; `at`: when it was done, or else when it came here. */
export type Line = { id: string; type: string; kind: string | null; say: string; detail: string; to: string | null; by: string | null; at: string; rev: number; photos: number };

const anyOf = (one: News): Any => ({ type: one.type, id: one.id, fields: { ...one.fields_now, ...row(one.type, one.id) } });

/** The line a photo or a first reading belongs to: its owner's, if that is new from the same hand. */
function hostOf(one: News, fresh: ReadonlyMap<string, News>): News | null {
  if (one.what !== "fresh" || (one.type !== "photo" && one.type !== "reading")) return null;
  const { of_id, defect_id } = one.fields_now;
  const host = fresh.get(String(one.type === "photo" ? of_id : defect_id));
  return host && host.by === one.by ? host : null;
}

export function told(news: readonly News[]): Line[] {
  const fresh = new Map(news.filter((one) => one.what === "fresh").map((one) => [one.id, one]));
  const lines = new Map<string, Line>();
  const guests: [News, News][] = [];
  for (const one of news) {
    const host = hostOf(one, fresh);
    if (host) guests.push([one, host]);
    else join(lines, one);
  }
  for (const [guest, host] of guests) {
    // The photo of a first reading came with the defect itself.
    const line = lines.get(host.id) ?? lines.get(hostOf(host, fresh)?.id ?? "");
    if (line && guest.type === "photo") line.photos += 1;
  }
  return [...lines.values()].sort((a, b) => (a.at < b.at ? 1 : a.at > b.at ? -1 : b.rev - a.rev));
}

/** Photos of one thing by one hand are one line. */
function join(lines: Map<string, Line>, one: News): void {
  if (one.type !== "photo" || one.what !== "fresh") {
    lines.set(one.id, lineOf(one));
    return;
  }
  const key = `photos ${String(one.fields_now.of_id)} ${one.by} ${dayOf(one.made_at ?? one.at)}`;
  const held = lines.get(key);
  lines.set(key, held ? { ...held, photos: held.photos + 1, rev: Math.max(held.rev, one.rev) } : { ...lineOf(one), photos: 1 });
}

function lineOf(one: News): Line {
  const any = anyOf(one);
  const kind = one.type === "defect" ? any.fields.kind : one.type === "reading" ? ownerOf(any)?.fields.kind : null;
  const fields = one.what === "fields" ? [...new Set(one.fields.map(fieldWords))].join(", ") : "";
  return {
    id: one.id, type: one.type, kind: typeof kind === "string" ? kind : null, say: sayOf(one), detail: [nameOf(any), fields].filter(Boolean).join(": "),
    to: one.what === "gone" ? "/deleted" : pathOf(any), by: one.by, at: one.made_at ?? one.at, rev: one.rev, photos: 0,
  };
}

function sayOf(one: News): string {
  if (one.what === "gone") return t("change_gone", { type: typeWords(one.type) });
  if (one.what === "back") return t("change_back", { type: typeWords(one.type) });
  if (one.what === "fields") return t("change_fields", { type: typeWords(one.type) });
  const key = `change_new_${one.type}`;
  return isSentence(key) ? t(key) : typeWords(one.type);
}

function fieldWords(field: string): string {
  const key = `field_${field}`;
  return isSentence(key) ? t(key) : t("field_other");
}

export type Day = { day: string; people: { by: string | null; lines: Line[] }[] };

/** By the day and the person, newest first. */
export function byDay(lines: readonly Line[]): Day[] {
  const days: Day[] = [];
  for (const line of lines) {
    const day = dayOf(line.at);
    let held = days.find((one) => one.day === day);
    if (!held) days.push((held = { day, people: [] }));
    const person = held.people.find((one) => one.by === line.by);
    if (person) person.lines.push(line);
    else held.people.push({ by: line.by, lines: [line] });
  }
  return days;
}
