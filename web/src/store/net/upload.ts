/** Sending photo bytes: after the row, one at a time, in chunks, going on after a cut where the server says it stands. */
import type { Id } from "../../model/types";
import { type PhotoJob, transact } from "../database";
import { parked, photoJobs } from "../outbox";
import { lastSentAt, nowIso } from "../phone";
import { readBytes } from "../photo/photos";
import { Refused } from "../refusals";
import { tellTabs } from "../tabs";
import { isWaiting } from "../view";
import { originalsHeld } from "./line";
import { type Answer, readRefusal, send, unreached } from "./transport";

const CHUNK = 1024 * 1024;
const OFFSET_TYPE = { "Content-Type": "application/offset+octet-stream" };
/** Bytes that arrive damaged are sent from the start again this often, then a person must look. */
const MOST_STARTS = 3;

type Stands = { offset: number; complete: boolean };

/**
 * Send the bytes of every photo whose row the server has: all previews first, then the originals, which may have to wait
 * for Wi-Fi. Rejects when the server is not reached or asks to wait.
 */
export async function uploadAll(): Promise<void> {
  for (const job of sendable()) await sendPreview(job);
  for (const job of sendable()) {
    if (originalsHeld.peek()) return;
    const bytes = await readBytes(job.sha256);
    const end = bytes ? await sendBytes(job, bytes) : lost();
    await closeJob(job, end);
  }
}

function sendable(): PhotoJob[] {
  return photoJobs.peek().filter((job) => job.state === "waiting" && !isWaiting("photo", job.photo_ids) && !isParked(job));
}

/** The preview is a kindness to the others: if it is gone or not wanted, the original alone tells. */
async function sendPreview(job: PhotoJob): Promise<void> {
  if (!job.preview || job.preview_sent) return;
  const bytes = await readBytes(job.preview);
  if (bytes) await sendBytes({ site: job.site, sha256: job.preview }, bytes);
  await changeJob(job, { preview_sent: true });
}

function isParked(job: PhotoJob): boolean {
  return job.photo_ids.every((id) => parked.peek().some((one) => one.op.id === id));
}

const lost = () => new Refused("photo_bytes_missing", "The picture itself is no longer on this phone.");

/** Send one photo; resolves with the refusal if the server will not have it, null when it has it whole. */
export async function sendBytes(job: Pick<PhotoJob, "site" | "sha256">, bytes: ArrayBuffer): Promise<Refused | null> {
  const url = `/api/blobs/${job.site}/${job.sha256}`;
  let refusal: Refused | null = null;
  for (let start = 0; start < MOST_STARTS; start += 1) {
    try {
      const begun = (await askUpload(url)) ?? (await create(url, bytes));
      const { complete } = begun.complete ? begun : await sendFrom(url, bytes, begun.offset);
      return complete ? null : await confirm(url, bytes.byteLength);
    } catch (error) {
      if (!(error instanceof Refused) || isForLater(error)) throw error;
      refusal = error;
      if (![409, 410, 460].includes(error.status)) return error;
    }
  }
  return refusal;
}

/** Signed out, too many tries, or a server in trouble: the photo is not to blame and waits. */
function isForLater(error: Refused): boolean {
  return error.status === 401 || error.status === 429 || (error.status >= 500 && error.status < 600);
}

/** Where the server stands with these bytes, or null if it has none. A sign-in page answers 200 too, but without our headers. */
async function askUpload(url: string): Promise<Stands | null> {
  const answer = await send("HEAD", url);
  if (answer.status === 404 || answer.status === 410) return null;
  if (!answer.ok) throw headRefusal(answer);
  return standsAt(answer);
}

/** A refusal to HEAD has no body to read a code from. */
function headRefusal(answer: Answer): Error {
  if (answer.status === 401) return new Refused("not_enrolled", "", {}, 401);
  if (answer.status === 403) return new Refused("not_allowed", "", {}, 403);
  return answer.status === 429 ? readRefusal(answer) : unreached(`HEAD answered ${answer.status}`);
}

const isComplete = (answer: Answer) => answer.headers.get("Upload-Complete") === "?1";

const standsAt = (answer: Answer): Stands => ({ offset: offsetOf(answer), complete: isComplete(answer) });

function offsetOf(answer: Answer): number {
  const told = answer.headers.get("Upload-Offset");
  const offset = told === null ? NaN : Number(told);
  if (!Number.isInteger(offset) || offset < 0) throw unreached("no upload offset in the answer");
  return offset;
}

/** Begin with the first chunk: over a weak line each question and answer takes its time, and most photos are not much more. */
async function create(url: string, bytes: ArrayBuffer): Promise<Stands> {
  const answer = await send("PUT", `${url}?length=${bytes.byteLength}`, OFFSET_TYPE, bytes.slice(0, CHUNK));
  if (!answer.ok) throw readRefusal(answer);
  return standsAt(answer);
}

/** Send the rest. Where all bytes had arrived but the server was stopped before it could keep them, an empty chunk has it finish. */
async function sendFrom(url: string, bytes: ArrayBuffer, from: number): Promise<Stands> {
  let stands: Stands = { offset: from, complete: false };
  do {
    const chunk = bytes.slice(stands.offset, stands.offset + CHUNK);
    const answer = await send("PATCH", url, { ...OFFSET_TYPE, "Upload-Offset": String(stands.offset) }, chunk);
    if (!answer.ok) throw readRefusal(answer);
    const next = standsAt(answer);
    if (next.offset <= stands.offset && chunk.byteLength > 0) throw unreached("the upload does not move on");
    stands = next;
  } while (stands.offset < bytes.byteLength);
  return stands;
}

/** Only the server's own word that it has every byte counts as sent; where no answer said so, it is asked. */
async function confirm(url: string, length: number): Promise<null> {
  const answer = await send("HEAD", url);
  if (!isComplete(answer)) throw unreached(`not confirmed: ${answer.headers.get("Upload-Offset")} of ${length}`);
  return null;
}

async function closeJob(job: PhotoJob, end: Refused | null): Promise<void> {
  const changed_at = nowIso();
  await changeJob(job, { state: end ? "refused" : "sent", code: end?.code ?? null, say: end?.message ?? null, changed_at }, end ? null : changed_at);
  if (!end) lastSentAt.value = changed_at;
}

async function changeJob(job: PhotoJob, change: Partial<PhotoJob>, sent_at: string | null = null): Promise<void> {
  photoJobs.value = await transact(["photo_jobs", "meta"], "readwrite", async (tx) => {
    const now = (await tx.objectStore("photo_jobs").get([job.site, job.sha256])) ?? job;
    await tx.objectStore("photo_jobs").put({ ...now, ...change });
    if (sent_at) await tx.objectStore("meta").put(sent_at, "last_sent_at");
    return tx.objectStore("photo_jobs").getAll();
  });
  tellTabs({ kind: "queues" });
}

/** Try a refused photo once more at the next sending. */
export async function retryPhoto(site: Id, sha256: string): Promise<void> {
  photoJobs.value = await transact(["photo_jobs"], "readwrite", async (tx) => {
    const job = await tx.objectStore("photo_jobs").get([site, sha256]);
    if (job) await tx.objectStore("photo_jobs").put({ ...job, state: "waiting", code: null, say: null, changed_at: nowIso() });
    return tx.objectStore("photo_jobs").getAll();
  });
}
