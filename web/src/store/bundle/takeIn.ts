/**
 * A keeper's device taking in what another phone saved to a file: the same ops under their own ids, as that phone's work.
 * Taking it in twice, or sending the same from the phone as well, changes nothing.
 */
import type { Id, Op, OpResult } from "../../model/types";
import { ask } from "../net/transport";
import { syncNow } from "../net/sync";
import { sendBytes } from "../net/upload";
import { me } from "../phone";
import { Refused } from "../refusals";
import { type ZipPlace, readEntry, readZip } from "./zip";

type Told = { v: number; device: Id; person: string; ops: Op[]; photos: { site: Id; sha256: string }[] };
export type Refusal = { what: string; code: string; say: string };
/** What became of a file. `ownName`: its phone has no part here, so all of it stands under the keeper's name. */
export type TakenIn = { person: string; changes: number; clashes: number; photos: number; refused: Refusal[]; ownName: boolean };

const MOST_OPS = 100;
const MOST_CHARS = 120 * 1024;

/** Take in a file. Rejects when it cannot be read, when this device may not, or when the server is not reached: then do it again. */
export async function takeInBundle(file: Blob): Promise<TakenIn> {
  const places = await readZip(file);
  const told = await readTold(file, places);
  const taken: TakenIn = { person: told.person, changes: 0, clashes: 0, photos: 0, refused: [], ownName: false };
  for (const bite of bites(told.ops)) count(taken, bite, await push(bite, told.device, taken));
  for (const { site, sha256 } of told.photos) {
    const place = places.get(`blobs/${sha256}`);
    if (!place) continue;
    const end = await sendBytes({ site, sha256 }, await readEntry(file, place));
    if (end) taken.refused.push({ what: "photo", code: end.code, say: end.message });
    else taken.photos += 1;
  }
  await syncNow();
  return taken;
}

async function readTold(file: Blob, places: ReadonlyMap<string, ZipPlace>): Promise<Told> {
  const place = places.get("ops.json");
  const unreadable = new Refused("bundle_unreadable", "This file is damaged or no file from Makegood. Ask for it to be saved again.");
  if (!place) throw unreadable;
  try {
    const told = JSON.parse(new TextDecoder().decode(await readEntry(file, place))) as Partial<Told> | null;
    if (told?.v !== 1 || typeof told.device !== "string" || !Array.isArray(told.ops) || !Array.isArray(told.photos)) throw unreadable;
    return { ...(told as Told), person: String(told.person ?? "") };
  } catch (error) {
    throw error instanceof SyntaxError ? unreadable : error;
  }
}

function* bites(ops: readonly Op[]): Generator<Op[]> {
  let bite: Op[] = [];
  let chars = 0;
  for (const op of ops) {
    const size = JSON.stringify(op).length;
    if (bite.length && (bite.length === MOST_OPS || chars + size > MOST_CHARS)) {
      yield bite;
      bite = [];
      chars = 0;
    }
    bite.push(op);
    chars += size;
  }
  if (bite.length) yield bite;
}

async function push(ops: readonly Op[], device: Id, taken: TakenIn): Promise<OpResult[]> {
  const mine = device === me.peek()?.device_id;
  try {
    const body = { v: 1, epoch: null, ops, ...(mine ? {} : { for: device }), ...(taken.ownName ? { as_own: true } : {}) };
    return (await ask<{ results: OpResult[] }>("POST", "/api/sync/push", body)).results;
  } catch (error) {
    if (!(error instanceof Refused) || error.code !== "author_unknown" || taken.ownName) throw error;
    taken.ownName = true;
    return push(ops, device, taken);
  }
}

function count(taken: TakenIn, ops: readonly Op[], results: readonly OpResult[]): void {
  const types = new Map(ops.map((op) => [op.op, op.type]));
  for (const one of results) {
    if (one.st === "rejected") taken.refused.push({ what: types.get(one.op) ?? "?", code: one.code ?? "bad_op", say: one.say ?? "" });
    else taken.changes += 1;
    if (one.st === "clash") taken.clashes += 1;
  }
}
