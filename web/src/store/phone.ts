/** What belongs to this phone and not to a site: who is enrolled, settings, the clock, the catalogue. Kept in `meta`. */
import { computed, signal } from "@preact/signals";
import type { Language } from "../model/catalogue";
import type { Id, Role } from "../model/types";
import { writeCell } from "./database";

/** `limited`: only what this device's hand-outs cover. */
export type Grant = { site_id: Id; role: Role; limited?: boolean };
export type Me = { device_id: Id; person: string; csrf: string; epoch: string; may_found: boolean; grants: Grant[] };
export type Settings = {
  language: Language; measures: "metric" | "us"; leftHanded: boolean; currentSurvey: Id | null;
  /** Black on white for bright sun; null until somebody chose, then as the system asks for more contrast. */
  glare: boolean | null;
  /** Whether photos get the place of this phone; null until the person was asked. */
  photoPlace: "yes" | "no" | null;
  /** Whether the originals of photos wait for Wi-Fi; rows and previews never do. */
  originalsOnWifi: boolean;
  /** Whether this phone shows a notice when a ticket changes hands. */
  tellHands: boolean;
  /** How a weather station's table was read last, by site: which column holds what, units, zone. */
  stations: Record<Id, Record<string, string>>;
  /** Sites whose first steps the person has put away. */
  startAway: readonly Id[];
};

const browserLanguage = (globalThis as { navigator?: { language?: string } }).navigator?.language ?? "en";
const DEFAULTS: Settings = {
  language: browserLanguage.startsWith("es") ? "es" : "en",
  measures: browserLanguage === "en-US" ? "us" : "metric",
  leftHanded: false,
  glare: null,
  currentSurvey: null,
  photoPlace: null,
  tellHands: false,
  originalsOnWifi: false,
  stations: {},
  startAway: [],
};

export const me = signal<Me | null>(null);
export const settings = signal<Settings>(DEFAULTS);
/** The session was ended or has run out; work goes on, sending waits for a new enrolment. */
export const signedOut = signal(false);
export const lastSentAt = signal<string | null>(null);
/** When it was found that the system had cleared this phone's storage; null once a person has read it. */
export const clearedAt = signal<string | null>(null);
/** The site on the screen. */
export const currentSite = signal<Id | null>(null);
/** Grows by one with each kept write; sync listens to it. */
export const writes = signal(0);

let clockOffset_ms = 0;

/** Now, corrected by what the server last said the time is. */
export function nowIso(): string {
  return new Date(Date.now() + clockOffset_ms).toISOString();
}

/** Learn the difference between this phone's clock and the server's; under two seconds it is only the line. */
export function learnClock(serverNow: unknown, asked_ms: number): void {
  const server_ms = typeof serverNow === "string" ? Date.parse(serverNow) : NaN;
  if (Number.isNaN(server_ms)) return;
  const offset = server_ms - (asked_ms + Date.now()) / 2;
  if (Math.abs(offset - clockOffset_ms) < 2000) return;
  clockOffset_ms = offset;
  void writeCell("clock_offset_ms", offset);
}

/** Take over the cells read at opening. */
export function loadPhone(cells: ReadonlyMap<string, unknown>): void {
  settings.value = { ...DEFAULTS, ...(cells.get("settings") as Partial<Settings> | undefined) };
  me.value = (cells.get("me") as Me | undefined) ?? null;
  signedOut.value = cells.get("signed_out") === true;
  lastSentAt.value = (cells.get("last_sent_at") as string | undefined) ?? null;
  clearedAt.value = (cells.get("cleared_at") as string | undefined) ?? null;
  clockOffset_ms = (cells.get("clock_offset_ms") as number | undefined) ?? 0;
}

/** Change settings of this device. */
export async function setSettings(change: Partial<Settings>): Promise<void> {
  const next = { ...settings.value, ...change };
  await writeCell("settings", next);
  settings.value = next;
}

export async function setMe(next: Me | null): Promise<void> {
  await writeCell("me", next);
  me.value = next;
}

/** Note that the storage was cleared, or that this was read. */
export async function setClearedAt(at: string | null): Promise<void> {
  await writeCell("cleared_at", at);
  clearedAt.value = at;
}

export async function setSignedOut(out: boolean): Promise<void> {
  if (signedOut.value === out) return;
  await writeCell("signed_out", out);
  signedOut.value = out;
}

/** This device's role on the current site; a site founded here and not yet sent counts as the keeper's. */
export const role = computed<Role | null>(() => {
  const site = currentSite.value;
  if (!me.value || !site) return null;
  const grant = me.value.grants.find((one) => one.site_id === site);
  return grant?.role ?? (me.value.may_found ? "keeper" : null);
});

/** Whether this device sees only what was handed out to it on the current site. */
export const limited = computed<boolean>(() => me.value?.grants.some((one) => one.site_id === currentSite.value && one.limited === true) ?? false);
