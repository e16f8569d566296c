/** Photos: bytes kept on this phone by their hash, rows in the outbox, and addresses to show them from. */
import type { Id, Photo } from "../../model/types";
import { type KeptPhoto, type PhotoFacts, transact } from "../database";
import { fetchCopy } from "../net/transport";
import { type Put, newId, putMany } from "../outbox";
import { makeRoom } from "./room";
import { checkPicture, hashOf, makePreview, makeSmall, MOST_PREVIEW_BYTES } from "./picture";
import { row } from "../view";

export type PhotoSize = "400" | "1600" | "original";
/** Addresses of pictures in memory that are held at once; the oldest go first. */
const MOST_URLS = 160;
const urls = new Map<string, string>();

/** The row for a picture kept with a draft, to go into `putMany` beside its defect or step. */
export function photoRow(of_type: Photo["of_type"], of_id: Id, kept: KeptPhoto, same_place_as: Id | null = null): Put {
  const { sha256, bytes, media_type, taken_at, lat, lon, accuracy_m, heading_deg, position_source, preview = null } = kept;
  return { type: "photo", id: newId(), set: { of_type, of_id, sha256, media_type, bytes, taken_at, lat, lon, accuracy_m, heading_deg, position_source, preview, same_place_as } };
}

/** Keep a picture for something that exists already: bytes, row and sending job in one transaction. */
export async function addPhoto(of_type: Photo["of_type"], of_id: Id, file: ArrayBuffer, facts: PhotoFacts): Promise<Id> {
  const media_type = await checkPicture(file);
  await makeRoom(file.byteLength);
  const sha256 = await hashOf(file);
  const small = await makePreview(file, media_type);
  const preview = small ? await hashOf(small) : null;
  const change = photoRow(of_type, of_id, { ...facts, media_type, sha256, bytes: file.byteLength, preview });
  const bytes = new Map([[sha256, file]]);
  if (small && preview) bytes.set(preview, small);
  const [id] = await putMany([change], { bytes });
  return id as Id;
}

/** An address to show a photo from: bytes on this phone, else a copy from the server; null if neither can be had now. */
export async function photoUrl(id: Id, size: PhotoSize): Promise<string | null> {
  const photo = row("photo", id);
  if (!photo) return null;
  const local = await keptUrl(photo.sha256, photo.media_type, size);
  const address = `/api/photos/${photo.site_id}/${id}/${size}`;
  if (!local && !photo.stored && photo.preview) return previewUrl(photo.preview, `/api/photos/${photo.site_id}/${id}/400`);
  if (local || !photo.stored) return local;
  if (size !== "400") return address;
  const small = await fetchCopy(address);
  if (!small) return null;
  await transact(["photo_bytes"], "readwrite", async (tx) => void (await tx.objectStore("photo_bytes").put(small, `${photo.sha256}/400`)));
  return urlOf(`${photo.sha256}/400`, small, "image/jpeg");
}

/** The preview stands in for a picture whose original has not arrived at the server. */
async function previewUrl(preview: string, address: string): Promise<string | null> {
  const held = urls.get(preview);
  if (held) return held;
  const kept = await readBytes(preview);
  if (kept) return urlOf(preview, kept, "image/jpeg");
  const fetched = await fetchCopy(address);
  if (!fetched) return null;
  // The address answers with a larger copy from the moment the original is there: that one is not the preview.
  if (fetched.byteLength <= MOST_PREVIEW_BYTES) {
    await transact(["photo_bytes"], "readwrite", async (tx) => void (await tx.objectStore("photo_bytes").put(fetched, preview)));
  }
  return urlOf(preview, fetched, "image/jpeg");
}

/** An address for bytes on this phone (a draft's picture, say), or null. */
export async function keptUrl(sha256: string, media_type: string, size: PhotoSize): Promise<string | null> {
  const name = size === "400" ? `${sha256}/400` : sha256;
  const held = urls.get(name);
  if (held) return held;
  const bytes = await readBytes(name);
  if (bytes) return urlOf(name, bytes, size === "400" ? "image/jpeg" : media_type);
  return size === "400" ? smallUrl(sha256, media_type) : null;
}

async function smallUrl(sha256: string, media_type: string): Promise<string | null> {
  const whole = await readBytes(sha256);
  if (!whole) return null;
  const small = await makeSmall(whole, media_type);
  // No browser but Safari shows HEIC: there the picture appears once the server has made its copies.
  if (!small) return media_type === "image/heic" ? null : urlOf(sha256, whole, media_type);
  await transact(["photo_bytes"], "readwrite", async (tx) => void (await tx.objectStore("photo_bytes").put(small, `${sha256}/400`)));
  return urlOf(`${sha256}/400`, small, "image/jpeg");
}

export async function readBytes(name: string): Promise<ArrayBuffer | undefined> {
  return transact(["photo_bytes"], "readonly", async (tx) => tx.objectStore("photo_bytes").get(name));
}

function urlOf(name: string, bytes: ArrayBuffer, media_type: string): string {
  const url = URL.createObjectURL(new Blob([bytes], { type: media_type }));
  urls.set(name, url);
  const [oldest] = urls.keys();
  if (urls.size > MOST_URLS && oldest !== undefined) {
    URL.revokeObjectURL(urls.get(oldest) as string);
    urls.delete(oldest);
  }
  return url;
}
