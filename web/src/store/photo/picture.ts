/** What the phone itself can tell of a picture: its kind by its first bytes, its name by SHA-256, and a small copy to show. */
import type { KeptPhoto } from "../database";
import { Refused } from "../refusals";

export type MediaType = KeptPhoto["media_type"];
/** As in shared/records.json: photo.bytes. */
export const MOST_BYTES = 26214400;
const SMALL_PX = 400;
/** A preview is small enough for a weak line; as in shared/records.json the server takes no larger one. */
const PREVIEW_PX = 320;
export const MOST_PREVIEW_BYTES = 65536;
const PREVIEW_QUALITIES = [0.7, 0.5, 0.3];
const HEIC_BRANDS = new Set(["heic", "heix", "hevc", "heim", "heis", "mif1", "msf1"]);

/** The kind of picture the bytes begin like, whatever the file is called; null for anything else. */
export function mediaTypeOf(bytes: ArrayBuffer): MediaType | null {
  const head = new Uint8Array(bytes.slice(0, 12));
  const ascii = String.fromCharCode(...head);
  if (head[0] === 0xff && head[1] === 0xd8 && head[2] === 0xff) return "image/jpeg";
  if (ascii.startsWith("\x89PNG\r\n\x1a\n")) return "image/png";
  return ascii.slice(4, 8) === "ftyp" && HEIC_BRANDS.has(ascii.slice(8, 12)) ? "image/heic" : null;
}

/** The media type, or a refusal: not a picture of a kind that is taken, or too large. */
export async function checkPicture(bytes: ArrayBuffer): Promise<MediaType> {
  if (bytes.byteLength > MOST_BYTES) throw new Refused("photo_too_large", "This picture is over 25 MB. Take it again at a smaller size.");
  const kind = mediaTypeOf(bytes);
  if (!kind) throw new Refused("not_a_picture", "This file is not a JPEG, PNG or HEIC picture. Choose a photo.");
  return kind;
}

export async function hashOf(bytes: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

let line: Promise<unknown> = Promise.resolve();

/** A JPEG of at most 400 px, or null where this browser cannot read the picture. One at a time: a decoded photo takes 48 MB. */
export function makeSmall(bytes: ArrayBuffer, media_type: string): Promise<ArrayBuffer | null> {
  return inLine(() => shrink(bytes, media_type, SMALL_PX, [0.8], Infinity));
}

/** The JPEG of at most 320 px and 64 KB that travels before the original, without metadata; null where this browser cannot make one. */
export function makePreview(bytes: ArrayBuffer, media_type: string): Promise<ArrayBuffer | null> {
  return inLine(() => shrink(bytes, media_type, PREVIEW_PX, PREVIEW_QUALITIES, MOST_PREVIEW_BYTES));
}

function inLine(shrinking: () => Promise<ArrayBuffer | null>): Promise<ArrayBuffer | null> {
  const next = line.then(() => shrinking().catch(() => null));
  line = next;
  return next;
}

async function shrink(
  bytes: ArrayBuffer, media_type: string, most_px: number, qualities: readonly number[], most_bytes: number,
): Promise<ArrayBuffer | null> {
  if (typeof createImageBitmap === "undefined" || typeof OffscreenCanvas === "undefined") return null;
  const whole = await createImageBitmap(new Blob([bytes], { type: media_type }));
  const factor = Math.min(1, most_px / Math.max(whole.width, whole.height));
  const canvas = new OffscreenCanvas(Math.max(1, Math.round(whole.width * factor)), Math.max(1, Math.round(whole.height * factor)));
  canvas.getContext("2d")?.drawImage(whole, 0, 0, canvas.width, canvas.height);
  whole.close();
  // A canvas knows pixels only: place, time and camera of the original stay behind.
  for (const quality of qualities) {
    const small = await canvas.convertToBlob({ type: "image/jpeg", quality });
    if (small.type === "image/jpeg" && small.size <= most_bytes) return small.arrayBuffer();
  }
  return null;
}
