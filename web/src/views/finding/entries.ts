/** Everything on this phone for the current site as it can be found, built when somebody looks and anew after a change. */
import { computed } from "@preact/signals";
import { type Entry, buildIndex, examples } from "../../model/finding/search";
import { dayOf } from "../../model/storm/limits";
import type { Defect, Id, RowType, Rows, Step, Ticket } from "../../model/types";
import { catalogue, limited, table } from "../../store";
import { notesOf, readingsOf, stepsOf, structureOf } from "../../store/lookup";
import { ticketState } from "../../parts/judged";
import { knownOf, methodHere, ticketUrgency } from "../../parts/ticket/gathered";
import { language, t } from "../../words";
import { showDate } from "../../words/measures";
import { vocabularyList, vocabularyWord } from "../../words/vocabulary";
import { asAny, defectName, nameOf, ownerOf, pathOf, sideName, ticketWords, typeWords } from "./rowWords";

export const GROUPS = ["structure", "elevation", "defect", "ticket", "storm", "survey", "finish", "mix", "handout", "person", "note", "photo"] as const;
export type Group = (typeof GROUPS)[number];
/** A row that can be found: where a tap leads, what stands below its name, and the kind whose drawing it has. */
export type Hit = Entry<Group> & { to: string; below: string; kind?: string | null };

const LISTS = ["kinds", "urgencies", "ticket_states", "wall_materials", "causes", "signs", "steps"] as const;
type List = (typeof LISTS)[number];
type Worded = { id: string; words: { en: unknown; es: unknown }; also?: { en: string[]; es: string[] }; glossary?: { term: string }[] };

/** What an entry of the vocabulary is called in both languages, by trade and by plain people. */
function callings(entry: Worded): string[] {
  const names = (["en", "es"] as const).flatMap((tongue) => {
    const words = entry.words[tongue];
    if (typeof words === "string") return [words];
    const { name = "", see = "", did = "" } = (words ?? {}) as Record<string, string>;
    return [name, see, did, ...(entry.also?.[tongue] ?? [])];
  });
  return [...names, ...(entry.glossary ?? []).map((one) => one.term)].filter(Boolean);
}

const spoken = computed(() => {
  void catalogue.value;
  return new Map(LISTS.map((list) => [list, new Map((vocabularyList(list) as readonly Worded[]).map((one) => [one.id, callings(one)]))]));
});
const called = (list: List, id: string | null | undefined): string[] => (id ? (spoken.value.get(list)?.get(id) ?? []) : []);
const texts = (...all: (string | null | undefined)[]): string[] => all.filter((one): one is string => Boolean(one));
const bothNames = (words: { en: { name: string }; es: { name: string } } | undefined): string[] => (words ? [words.en.name, words.es.name] : []);

type Make<T extends RowType> = (one: Rows[T]) => Omit<Hit, "id" | "group" | "name" | "to" | "at" | "days"> & Partial<Pick<Hit, "name" | "at" | "days" | "to">>;

function hits<T extends RowType>(type: T & Group, make: Make<T>): Hit[] {
  const found: Hit[] = [];
  for (const one of table(type).value.values() as Iterable<Rows[T]>) {
    const any = asAny(type, one);
    const to = pathOf(any);
    if (to === null) continue;
    const made = make(one);
    found.push({ id: one.id, group: type, name: nameOf(any), to, at: one.made_at, days: [dayOf(one.made_at)], ...made, hidden: [...(made.hidden ?? []), typeWords(type)] });
  }
  return found;
}

function ofDefect(one: Defect) {
  const readings = readingsOf(one.id);
  const elevation = table("elevation").value.get(one.elevation_id);
  const side = sideName(elevation);
  const also = texts(side, one.note, ...readings.map((reading) => reading.note), ...notesOf(one.id).map((note) => note.text), vocabularyWord("causes", one.cause));
  return {
    name: defectName(one), below: side, kind: one.kind, number: one.number, at: readings.at(-1)?.at ?? one.made_at, also: [...also, one.made_by],
    days: [one.made_at, ...readings.map((reading) => reading.at)].map(dayOf), hidden: [...called("kinds", one.kind), ...called("causes", one.cause), ...(one.signs ?? []).flatMap((sign) => called("signs", sign))],
  };
}

function ofTicket(one: Ticket) {
  const steps = stepsOf(one.id);
  const known = knownOf(one.defect_ids);
  const state = ticketState(one);
  const urgency = ticketUrgency(one, known);
  const usual = catalogue.value?.methods[one.method ?? ""]?.words;
  const method = methodHere(one.method, known, one.coats)?.words;
  const walls = [...new Set(known.map(({ defect }) => sideName(table("elevation").value.get(defect.elevation_id))))];
  const who = [...new Set(steps.map((step) => step.made_by))];
  const below = texts(vocabularyWord("ticket_states", state), method?.[language()].name, ...walls).join(" · ");
  return {
    name: ticketWords(one), below, kind: known[0]?.defect.kind ?? null, number: one.number, at: steps.at(-1)?.at ?? one.made_at,
    also: texts(below, vocabularyWord("urgencies", urgency), who.join(", "), one.note, ...steps.map((step) => step.note), ...notesOf(one.id).map((note) => note.text)),
    days: [one.made_at, ...steps.map((step) => step.at)].map(dayOf),
    hidden: [...bothNames(usual), ...bothNames(method), ...called("ticket_states", state), ...called("urgencies", urgency), ...known.flatMap(({ defect }) => called("kinds", defect.kind))],
  };
}

/** Everybody named on a step or a hand-out; a tap leads to the newest of it. */
function people(): Hit[] {
  const steps = new Map<string, Step[]>();
  for (const one of table("step").value.values()) steps.set(one.made_by, [...(steps.get(one.made_by) ?? []), one]);
  const found: Hit[] = [];
  for (const [name, own] of steps) {
    const last = own.reduce((a, b) => (a.at > b.at ? a : b));
    if (!name || !table("ticket").value.has(last.ticket_id)) continue;
    const below = t("find_person_steps", { n: own.length, what: nameOf(asAny("step", last)) });
    found.push({ id: `person ${name}`, group: "person", name, also: [], to: `/ticket/${last.ticket_id}`, below, at: last.at, days: own.map((one) => dayOf(one.at)) });
  }
  for (const one of table("handout").value.values()) {
    const name = one.person?.trim();
    if (!name || steps.has(name) || found.some((other) => other.name === name)) continue;
    found.push({ id: `person ${name}`, group: "person", name, also: [], to: limited.value ? "/list" : `/handout/${one.id}`, below: nameOf(asAny("handout", one)), at: one.on, days: [one.on] });
  }
  return found;
}

function mixes(): Hit[] {
  return Object.entries(catalogue.value?.mixes ?? {}).map(([id, mix]) => ({
    id, group: "mix", name: mix.words[language()].name, also: [mix.words[language()].use], hidden: [mix.words.en.name, mix.words.es.name, mix.words.en.use, mix.words.es.use, t("find_group_mix")],
    to: `/mix/${id}`, below: mix.words[language()].use, at: null,
  }));
}

const ownedBy = (any: Parameters<typeof ownerOf>[0]): string => {
  const owner = ownerOf(any);
  return owner ? nameOf(owner) : "";
};

function walls(): Hit[] {
  return [
    ...hits("structure", (one) => ({ also: texts(one.note), below: vocabularyWord("wall_materials", one.wall_material), hidden: called("wall_materials", one.wall_material) })),
    ...hits("elevation", (one) => ({ also: notesOf(one.id).map((note) => note.text), below: vocabularyWord("wall_materials", structureOf(one)?.wall_material ?? null) })),
    ...hits("finish", (one) => {
      const coats = (one.coats ?? []).map((coat) => catalogue.value?.mixes[coat.mix]?.words);
      const below = coats.map((words) => words?.[language()].name).filter(Boolean).join(", ");
      return {
        also: texts(below, one.note, one.by, one.sand, one.water, one.cure, one.weather, one.sample_panel ? t("finish_panel") : ""), below, at: one.made_on ?? one.made_at,
        days: texts(one.made_on, one.ended_on, dayOf(one.made_at)), hidden: coats.flatMap((words) => bothNames(words)),
      };
    }),
  ];
}

function weather(): Hit[] {
  return [
    ...hits("storm", (one) => ({ also: texts(one.note, one.source, ...notesOf(one.id).map((note) => note.text)), below: showDate(one.began_on), at: one.began_on, days: [dayOf(one.began_on)] })),
    ...hits("survey", (one) => {
      const storm = table("storm").value.get(one.storm_id as Id);
      return { also: texts(storm?.name, one.note, one.made_by, ...notesOf(one.id).map((note) => note.text)), below: storm ? storm.name : one.made_by, at: one.on, days: [one.on] };
    }),
  ];
}

function words(): Hit[] {
  return [
    ...hits("note", (one) => ({ name: one.text, also: texts(ownedBy(asAny("note", one)), one.made_by), below: texts(ownedBy(asAny("note", one)), one.made_by, showDate(one.at)).join(" · "), at: one.at, days: [dayOf(one.at)] })),
    ...hits("photo", (one) => ({ also: texts(one.made_by), below: texts(showDate(one.taken_at ?? one.made_at), one.made_by).join(" · "), at: one.taken_at ?? one.made_at, days: [dayOf(one.taken_at ?? one.made_at)] })),
    ...hits("handout", (one) => ({ also: texts(one.note), below: showDate(one.on), at: one.on, days: [one.on] })),
  ];
}

/** All that can be found, in one list. */
export const entries = computed<readonly Hit[]>(() => [...walls(), ...hits("defect", ofDefect), ...hits("ticket", ofTicket), ...weather(), ...mixes(), ...people(), ...words()]);
export const index = computed(() => buildIndex(entries.value));
/** Words of this site's own, and the month of the newest, for an empty screen. */
export const siteWords = computed(() => {
  const own = entries.value.filter((one) => ["structure", "defect", "ticket", "storm", "finish", "person"].includes(one.group));
  const newest = own.reduce((last, one) => ((one.at ?? "") > last ? (one.at ?? "") : last), "");
  return [...examples(own, 5), ...(newest ? [newest.slice(0, 7)] : [])];
});
