/**
 * What others did to a row, as far as a phone can tell from the rows it is sent: a pulled row says how it stands, not who
 * changed which field, so the phone compares it with what it held. Its own work is in what it held already, and is no news.
 */
import { type FieldValues, sameValue } from "../merge";

/** At which rev of `epoch` the row was first seen, was gone, or came back, and each field last changed; `at`: when the latest of it came here. */
export type Told = { epoch: string; at: string; fresh?: number; gone?: number; back?: number; fields?: Record<string, number> };
/** `sent`: what this phone itself sent last to the row: the server may write it a little differently, an instant for one. */
export type Before = { deleted: boolean; d: FieldValues; told?: Told | undefined; sent?: { rev: number; fields: readonly string[] } | undefined };
export type Now = { rev: number; deleted: boolean; d: FieldValues };
/** The last look of a person at what changed: everything up to `rev` has been seen. */
export type Look = { rev: number; epoch: string; at: string };

/** What is told of a row from now on; `silent` are fields that no person writes. A row that is only ever added to has no fields that change. */
export function tell(before: Before | undefined, now: Now, came: { epoch: string; at: string }, silent: ReadonlySet<string> | "all"): Told | undefined {
  const earlier: Partial<Told> = before?.told?.epoch === came.epoch ? before.told : {};
  if (now.deleted) return before && !before.deleted ? { ...earlier, ...came, gone: now.rev } : before?.told;
  if (!before) return { ...came, fresh: now.rev };
  if (before.deleted) return { ...earlier, ...came, back: now.rev };
  const changed = silent === "all" ? [] : changedFields(before, now, silent);
  if (!changed.length) return before.told;
  return { ...earlier, ...came, fields: { ...earlier.fields, ...Object.fromEntries(changed.map((name) => [name, now.rev])) } };
}

function changedFields(before: Before, now: Now, silent: ReadonlySet<string>): string[] {
  const own = before.sent?.rev === now.rev ? before.sent.fields : [];
  // A field that was not there at all was hidden from this phone, or is new to the app: nobody has changed it.
  return Object.keys(now.d).filter((name) => name in before.d && !silent.has(name) && !own.includes(name) && !sameValue(before.d[name] ?? null, now.d[name] ?? null));
}

export type What = "fresh" | "gone" | "back" | "fields";
export type NewsOf = { what: What; fields: string[]; rev: number };

/** What of it has come since the last look; null where nothing has. The last of gone and back stands, and what is new has no changed fields. */
export function newsSince(told: Told | undefined, look: Look): NewsOf | null {
  if (!told) return null;
  // A restored server counts from lower again: then only the clock of this phone can tell.
  const since = told.epoch === look.epoch ? look.rev : told.at > look.at ? -1 : Infinity;
  const [fresh, gone, back] = [told.fresh ?? -1, told.gone ?? -1, told.back ?? -1].map((rev) => (rev > since ? rev : -1)) as [number, number, number];
  const fields = Object.entries(told.fields ?? {}).filter(([, rev]) => rev > since);
  const rev = Math.max(fresh, gone, back, ...fields.map(([, at]) => at));
  if (rev < 0) return null;
  if (gone > back) return fresh >= 0 ? null : { what: "gone", fields: [], rev };
  if (fresh >= 0) return { what: "fresh", fields: [], rev };
  // Gone and back again since the last look: it is as it was, unless a field says otherwise.
  if (back > gone && gone < 0) return { what: "back", fields: [], rev };
  return fields.length ? { what: "fields", fields: fields.map(([name]) => name), rev } : null;
}
