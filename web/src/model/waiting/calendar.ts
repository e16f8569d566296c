/** Calendar text (RFC 5545, the name by RFC 7986) made without a connection: all-day entries, lines folded at 75 octets, ended by CR LF. Held to a reader of other hands by tests/contract/test_calendar.py. */
import { dateOfDay, dayNumber } from "./curing";

export type Entry = {
  /** The same entry keeps its id, so that a calendar takes in a changed date instead of a second entry. */
  uid: string;
  summary: string;
  description: string;
  /** As 2026-04-01. */
  on: string;
};

const MAKER = "-//Makegood//curing plan on the phone//EN";
const FOLD_OCTETS = 75;

const escaped = (text: string): string => text.replace(/[\\;,]/g, "\\$&").replace(/\r\n|\r|\n/g, "\\n");
const compact = (date: string): string => date.replaceAll("-", "");
/** 2026-04-01T10:00:00.000Z as 20260401T100000Z. */
const stamp = (instant: string): string => `${instant.slice(0, 19).replace(/[-:]/g, "")}Z`;

function octets(character: string): number {
  const point = character.codePointAt(0) ?? 0;
  return point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
}

/** One content line in pieces of at most 75 octets, never within a character; the space that opens each further piece counts. */
function folded(line: string): string {
  let text = "";
  let used = 0;
  for (const character of line) {
    const size = octets(character);
    if (used + size > FOLD_OCTETS) {
      text += "\r\n ";
      used = 1;
    }
    text += character;
    used += size;
  }
  return text;
}

function entryLines(entry: Entry, made_at: string): string[] {
  return [
    "BEGIN:VEVENT", `UID:${escaped(entry.uid)}`, `DTSTAMP:${stamp(made_at)}`, `DTSTART;VALUE=DATE:${compact(entry.on)}`,
    // The end of an all-day entry is the day after it.
    `DTEND;VALUE=DATE:${compact(dateOfDay(dayNumber(entry.on) + 1))}`, `SUMMARY:${escaped(entry.summary)}`, `DESCRIPTION:${escaped(entry.description)}`,
    "TRANSP:TRANSPARENT", "END:VEVENT",
  ];
}

/** The whole calendar; `made_at` is an ISO instant in UTC. Throws a Refusal: date_refused. */
export function calendarText(name: string, entries: readonly Entry[], made_at: string): string {
  const lines = ["BEGIN:VCALENDAR", "VERSION:2.0", `PRODID:${MAKER}`, `NAME:${escaped(name)}`, `X-WR-CALNAME:${escaped(name)}`, ...entries.flatMap((entry) => entryLines(entry, made_at)), "END:VCALENDAR"];
  return lines.map((line) => `${folded(line)}\r\n`).join("");
}
