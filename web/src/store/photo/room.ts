/** How much of the phone's storage is used, and making room by letting go of originals that the server has for certain. */
import { signal } from "@preact/signals";
import { transact } from "../database";
import { Refused } from "../refusals";

/** Share of the quota above which sent originals leave the phone, and above which no further original is taken. */
const LET_GO = 0.7;
const STOP = 0.9;

export const quota = signal<{ used: number; of: number } | null>(null);
/** Whether the browser has promised not to clear this storage by itself; null while not asked. */
export const persisted = signal<boolean | null>(null);

type Storage = { estimate?: () => Promise<{ usage?: number; quota?: number }>; persist?: () => Promise<boolean>; persisted?: () => Promise<boolean> };
const storage = () => (globalThis as { navigator?: { storage?: Storage } }).navigator?.storage;

/** Read the browser's estimate into `quota`. */
export async function measureRoom(): Promise<void> {
  const estimate = await storage()?.estimate?.();
  if (estimate?.quota) quota.value = { used: estimate.usage ?? 0, of: estimate.quota };
}

/** Read whether the storage is kept for good, without asking for it. */
export async function readPersisted(): Promise<void> {
  persisted.value = (await storage()?.persisted?.()) ?? null;
}

/** Ask once that the storage be kept for good; the answer is shown, not assumed. */
export async function askToPersist(): Promise<void> {
  if (persisted.peek() === true) return;
  persisted.value = (await storage()?.persisted?.()) === true || (await storage()?.persist?.()) === true;
}

/** See to it that `bytes` more fit, or refuse with a sentence. */
export async function makeRoom(bytes: number): Promise<void> {
  await measureRoom();
  if (share(bytes) > LET_GO) {
    await letGoOfSent();
    await measureRoom();
  }
  if (share(bytes) > STOP) {
    throw new Refused("storage_nearly_full", "This phone's storage is nearly full. Send what waits, or free some space, then take the photo again.");
  }
}

function share(more: number): number {
  const now = quota.peek();
  return now ? (now.used + more) / now.of : 0;
}

async function letGoOfSent(): Promise<void> {
  await transact(["photo_jobs", "photo_bytes", "draft"], "readwrite", async (tx) => {
    const jobs = await tx.objectStore("photo_jobs").getAll();
    const drafts = await tx.objectStore("draft").getAll();
    const needed = new Set([
      ...jobs.filter((job) => job.state !== "sent").map((job) => job.sha256),
      ...drafts.flatMap((draft) => draft.photos.map((photo) => photo.sha256)),
    ]);
    for (const job of jobs) if (!needed.has(job.sha256)) await tx.objectStore("photo_bytes").delete(job.sha256);
  });
}
