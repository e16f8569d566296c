/** Unfinished entries, saved on each tap, so that a page that dies (the camera is a usual reason) comes back where it was. */
import { effect, signal } from "@preact/signals";
import { type Deal, type Draft, type KeptPhoto, type PhotoFacts, type StoreName, transact } from "./database";
import { draftsGone } from "./outbox";
import { nowIso } from "./phone";
import { checkPicture, hashOf, makePreview } from "./photo/picture";
import { makeRoom } from "./photo/room";
import { Refused } from "./refusals";
import { tellTabs } from "./tabs";
import { inTurn } from "./view";

/** All drafts on this phone, by key. */
export const drafts = signal<ReadonlyMap<string, Draft>>(new Map());

/** What was thrown away lies under this name with its pictures, out of sight, for as long as it can be brought back. */
const THROWN = "thrown:";
const THROWN_FOR_MS = 86_400_000;

/** Take over the drafts as read from the database. */
export function loadDrafts(rows: readonly Draft[]): void {
  drafts.value = new Map(rows.filter((draft) => !draft.key.startsWith(THROWN)).map((draft) => [draft.key, draft]));
}

effect(() => {
  const gone = draftsGone.value;
  if (gone.length) forget(gone);
});

function forget(keys: readonly string[]): void {
  const next = new Map(drafts.peek());
  for (const key of keys) next.delete(key);
  drafts.value = next;
}

/** The draft's value as last saved, or null. */
export function readDraft<V>(key: string): V | null {
  return (drafts.value.get(key)?.value as V | undefined) ?? null;
}

/** Change one draft in the database, made if need be; the change sees the stored state, so no two writers undo each other; null leaves it. */
function changeDraft(key: string, stores: StoreName[], change: (draft: Draft, tx: Deal) => Promise<Draft | null> | Draft | null): Promise<void> {
  return inTurn(async () => {
    const next = await transact(["draft", ...stores], "readwrite", async (tx) => {
      const old = await tx.objectStore("draft").get(key);
      const draft = await change(old ?? { key, value: null, photos: [], camera: false, saved_at: nowIso() }, tx);
      if (draft) await tx.objectStore("draft").put({ ...draft, saved_at: nowIso() });
      return draft;
    });
    if (!next) return;
    drafts.value = new Map(drafts.peek()).set(key, next);
    tellTabs({ kind: "queues" });
  });
}

/** Save what has been entered so far; resolves once stored. Photos and the camera flag of the draft stay as they are. */
export function saveDraft<V>(key: string, value: V): Promise<void> {
  return changeDraft(key, [], (draft) => ({ ...draft, value }));
}

/** Say, before the camera opens, which draft it belongs to; `endCamera` when the picture (or none) came back. */
export function beginCamera(key: string): Promise<void> {
  return changeDraft(key, [], (draft) => ({ ...draft, camera: true }));
}

export function endCamera(key: string): Promise<void> {
  return changeDraft(key, [], (draft) => ({ ...draft, camera: false }));
}

/** The draft during whose camera the page died, newest first; the app goes back to it at the start. */
export function draftAtCamera(): Draft | null {
  const open = [...drafts.value.values()].filter((draft) => draft.camera);
  return open.sort((a, b) => b.saved_at.localeCompare(a.saved_at))[0] ?? null;
}

/** Store a picture with a draft, before the defect it will belong to exists. Clears the camera flag. */
export async function keepBytes(key: string, bytes: ArrayBuffer, facts: PhotoFacts): Promise<KeptPhoto> {
  const media_type = await checkPicture(bytes);
  await makeRoom(bytes.byteLength);
  const photo: KeptPhoto = { ...facts, media_type, sha256: await hashOf(bytes), bytes: bytes.byteLength };
  await changeDraft(key, ["photo_bytes"], async (draft, tx) => {
    await tx.objectStore("photo_bytes").put(bytes, photo.sha256);
    const others = draft.photos.filter((one) => one.sha256 !== photo.sha256);
    return { ...draft, camera: false, photos: [...others, photo] };
  });
  return addPreview(key, photo, bytes);
}

/** Make the preview once the picture itself is stored: a page that dies while it decodes has lost nothing. */
async function addPreview(key: string, photo: KeptPhoto, bytes: ArrayBuffer): Promise<KeptPhoto> {
  const small = await makePreview(bytes, photo.media_type);
  if (!small) return photo;
  const preview = await hashOf(small);
  await changeDraft(key, ["photo_bytes"], async (draft, tx) => {
    if (!draft.photos.some((one) => one.sha256 === photo.sha256)) return null;
    await tx.objectStore("photo_bytes").put(small, preview);
    return { ...draft, photos: draft.photos.map((one) => (one.sha256 === photo.sha256 ? { ...one, preview } : one)) };
  });
  return { ...photo, preview };
}

/** Correct what is known of a picture kept with a draft, say its place given by hand. */
export function correctKept(key: string, sha256: string, facts: Partial<Omit<PhotoFacts, "media_type">>): Promise<void> {
  return changeDraft(key, [], (draft) => ({ ...draft, photos: draft.photos.map((one) => (one.sha256 === sha256 ? { ...one, ...facts } : one)) }));
}

const thrownKey = (key: string, sha256?: string) => `${THROWN}${key}${sha256 ? `#${sha256}` : ""}`;

/** Take a picture out of a draft again; `bringThrownBack` puts it in once more. */
export async function forgetKept(key: string, sha256: string): Promise<void> {
  await changeDraft(key, [], async (draft, tx) => {
    const taken = draft.photos.filter((one) => one.sha256 === sha256);
    await tx.objectStore("draft").put({ key: thrownKey(key, sha256), value: null, photos: taken, camera: false, saved_at: nowIso() });
    return { ...draft, photos: draft.photos.filter((one) => one.sha256 !== sha256) };
  });
}

/** Throw a draft away, so that it can be brought back until `forgetThrown`; false if there was none. */
export function throwDraft(key: string): Promise<boolean> {
  return inTurn(async () => {
    const thrown = await transact(["draft"], "readwrite", async (tx) => {
      const draft = await tx.objectStore("draft").get(key);
      if (!draft) return false;
      await tx.objectStore("draft").delete(key);
      await tx.objectStore("draft").put({ ...draft, key: thrownKey(key), camera: false, saved_at: nowIso() });
      return true;
    });
    forget([key]);
    tellTabs({ kind: "queues" });
    return thrown;
  });
}

/** Bring back a draft that was thrown away, or one picture of it. A draft that was begun under its name meanwhile is not touched. */
export function bringThrownBack(key: string, sha256?: string): Promise<void> {
  return inTurn(async () => {
    const next = await transact(["draft"], "readwrite", async (tx) => {
      const store = tx.objectStore("draft");
      const [thrown, now] = [await store.get(thrownKey(key, sha256)), await store.get(key)];
      if (!thrown) return null;
      if (now && !sha256) throw new Refused("draft_begun", "Another one has been begun meanwhile; it stays as it is.");
      const draft = sha256 ? { ...(now ?? { ...thrown, key, photos: [] }) } : { ...thrown, key };
      const photos = sha256 ? [...draft.photos.filter((one) => one.sha256 !== sha256), ...thrown.photos] : draft.photos;
      await store.delete(thrown.key);
      await store.put({ ...draft, photos });
      return { ...draft, photos };
    });
    if (!next) return;
    drafts.value = new Map(drafts.peek()).set(key, next);
    tellTabs({ kind: "queues" });
  });
}

/** It is not wanted back: its pictures go too. */
export function forgetThrown(key: string, sha256?: string): Promise<void> {
  return dropDraft(thrownKey(key, sha256));
}

/** At the start: what a page left behind that died before it could forget it. */
export async function clearThrown(): Promise<void> {
  const before = new Date(Date.parse(nowIso()) - THROWN_FOR_MS).toISOString();
  const all = await transact(["draft"], "readonly", async (tx) => tx.objectStore("draft").getAll(IDBKeyRange.bound(THROWN, `${THROWN}\uffff`)));
  for (const draft of all) if (draft.saved_at < before) await dropDraft(draft.key);
}

/** Throw a draft away with the pictures that nothing else uses. */
export function dropDraft(key: string): Promise<void> {
  return inTurn(async () => {
    await transact(["draft", "photo_bytes", "photo_jobs"], "readwrite", async (tx) => {
      const draft = await tx.objectStore("draft").get(key);
      await tx.objectStore("draft").delete(key);
      await dropUnused(tx, key, (draft?.photos ?? []).flatMap(namesOf));
    });
    forget([key]);
    tellTabs({ kind: "queues" });
  });
}

/** The names of the bytes of a kept picture and of its preview. */
const namesOf = (photo: { sha256: string; preview?: string | null }) => [photo.sha256, ...(photo.preview ? [photo.preview] : [])];

async function dropUnused(tx: Deal, key: string, hashes: readonly string[]): Promise<void> {
  if (!hashes.length) return;
  const jobs = await tx.objectStore("photo_jobs").getAll();
  const others = (await tx.objectStore("draft").getAll()).filter((draft) => draft.key !== key);
  const used = new Set([...jobs.flatMap(namesOf), ...others.flatMap((draft) => draft.photos.flatMap(namesOf))]);
  for (const sha of hashes.filter((one) => !used.has(one))) {
    await tx.objectStore("photo_bytes").delete(sha);
    await tx.objectStore("photo_bytes").delete(`${sha}/400`);
  }
}

/** Resolves when every draft write begun so far is stored. */
export function flushDrafts(): Promise<void> {
  return inTurn(() => undefined);
}
