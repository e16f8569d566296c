/** Saving for the keeper what the server does not have from this phone, refused changes too: one file, to hand over by whatever way there is. Nothing leaves the outbox by it. */
import type { Op } from "../../model/types";
import { type Deal, type ParkedOp, type WaitingOp, asSent, transact } from "../database";
import { me, nowIso } from "../phone";
import { readBytes } from "../photo/photos";
import { Refused } from "../refusals";
import { ZipWriter } from "./zip";

export type Saved = { file: Blob; name: string; changes: number; photos: number };

/**
 * The server keeps its "no" to a refused op for good, so in the file it goes under another id: always the same one, as
 * a file may be brought twice.
 */
function asNew({ op }: ParkedOp): Op {
  const rest = asSent(op);
  const flipped = ((parseInt(rest.op.charAt(0), 16) ^ 1) & 15).toString(16);
  return { ...rest, op: flipped + rest.op.slice(1) };
}

/** What waits; the file may bring its deletions to the server, so that from now on they count as tried. */
async function outboxAsTried(tx: Deal): Promise<WaitingOp[]> {
  const waiting = await tx.objectStore("outbox").getAll();
  for (const op of waiting) if (op.kind === "del" && !op.tried) await tx.objectStore("outbox").put({ ...op, tried: true });
  return waiting;
}

/** Make the file; null if everything was sent and taken. */
export async function saveBundle(): Promise<Saved | null> {
  const mine = me.peek();
  if (!mine) throw new Refused("not_enrolled", "Open an enrolment link first.");
  const { waiting, refused, jobs } = await transact(["outbox", "parked", "photo_jobs"], "readwrite", async (tx) => ({
    waiting: await outboxAsTried(tx), refused: await tx.objectStore("parked").getAll(), jobs: await tx.objectStore("photo_jobs").getAll(),
  }));
  const photos = jobs.filter((job) => job.state === "waiting");
  if (!waiting.length && !refused.length && !photos.length) return null;
  const earlier = refused.sort((a, b) => a.op.n - b.op.n).map(asNew);
  const ops = [...earlier, ...waiting.map(asSent)];
  const made_at = nowIso();
  const told = {
    v: 1, device: mine.device_id, person: mine.person, made_at, ops, photos: photos.map(({ site, sha256, length }) => ({ site, sha256, length })),
  };
  const zip = new ZipWriter();
  zip.add({ name: "ops.json", bytes: new TextEncoder().encode(JSON.stringify(told)) });
  let kept = 0;
  for (const sha256 of new Set(photos.map((job) => job.sha256))) {
    const bytes = await readBytes(sha256);
    if (!bytes) continue; // the phone's own sending says so, photo by photo
    zip.add({ name: `blobs/${sha256}`, bytes: new Uint8Array(bytes) });
    kept += 1;
  }
  return { file: zip.finish(), name: `makegood-${made_at.slice(0, 16).replace(/\D/g, "-")}.zip`, changes: ops.length, photos: kept };
}
