/**
 * Zip files, as little as a bundle needs: entries stored as they are, up to 4 GB in all. Photos do not shrink anyway, and
 * whatever unpacks zips can open it. Source: the public format note of the zip file (APPNOTE 6.3, sections 4.3 and 4.4).
 */
import { Refused } from "../refusals";

export type ZipEntry = { name: string; bytes: Uint8Array<ArrayBuffer> };
export type ZipPlace = { start: number; length: number; crc: number };

const LOCAL = 0x04034b50, CENTRAL = 0x02014b50, END = 0x06054b50;
const END_BYTES = 22, CENTRAL_BYTES = 46, LOCAL_BYTES = 30;
const VERSION = 20, MADE_ON_UNIX = 3 << 8, UTF8_NAMES = 0x0800, FIRST_DAY = 0x0021, OWNERS_FILE = 0o600 * 0x10000;
const MOST_BYTES = 0xffffffff, MOST_ENTRIES = 0xffff;

const TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let crc = n;
  for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? 0xedb88320 ^ (crc >>> 1) : crc >>> 1;
  return crc;
});

export function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) crc = (TABLE[(crc ^ byte) & 0xff] as number) ^ (crc >>> 8);
  return (crc ^ 0xffffffff) >>> 0;
}

/** A header: pairs of size in bytes and value, least byte first. */
function header(...parts: readonly [2 | 4, number][]): Uint8Array<ArrayBuffer> {
  const view = new DataView(new ArrayBuffer(parts.reduce((sum, [size]) => sum + size, 0)));
  let at = 0;
  for (const [size, value] of parts) {
    if (size === 2) view.setUint16(at, value, true);
    else view.setUint32(at, value, true);
    at += size;
  }
  return new Uint8Array(view.buffer);
}

/** Parts of a zip, to be put one after the other; entries come one at a time, so that photos need not all be read at once. */
export class ZipWriter {
  private readonly parts: Blob[] = [];
  private readonly central: Uint8Array<ArrayBuffer>[] = [];
  private at = 0;

  add({ name, bytes }: ZipEntry): void {
    const title = new TextEncoder().encode(name);
    const flag = title.length === name.length ? 0 : UTF8_NAMES;
    const shared: [2 | 4, number][] = [
      [2, VERSION], [2, flag], [2, 0], [2, 0], [2, FIRST_DAY], [4, crc32(bytes)], [4, bytes.length], [4, bytes.length], [2, title.length], [2, 0],
    ];
    this.central.push(header([4, CENTRAL], [2, MADE_ON_UNIX | VERSION], ...shared, [2, 0], [2, 0], [2, 0], [4, OWNERS_FILE], [4, this.at]), title);
    // A Blob's bytes may lie on disk: the writer holds none of them in memory.
    this.parts.push(new Blob([header([4, LOCAL], ...shared), title, bytes]));
    this.at += LOCAL_BYTES + title.length + bytes.length;
    if (this.at > MOST_BYTES || this.central.length > 2 * MOST_ENTRIES) throw new Refused("bundle_too_large", "This is more than one file can hold.");
  }

  finish(): Blob {
    const count = this.central.length / 2;
    const length = this.central.reduce((sum, part) => sum + part.length, 0);
    const end = header([4, END], [2, 0], [2, 0], [2, count], [2, count], [4, length], [4, this.at], [2, 0]);
    return new Blob([...this.parts, ...this.central, end], { type: "application/zip" });
  }
}

const unreadable = () => new Refused("bundle_unreadable", "This file is damaged or no file from Makegood. Ask for it to be saved again.");

async function viewOf(file: Blob, start: number, length: number): Promise<DataView> {
  if (start < 0 || start + length > file.size) throw unreadable();
  return new DataView(await file.slice(start, start + length).arrayBuffer());
}

/** Where each entry of a zip lies; rejects with bundle_unreadable for anything this app did not write. */
export async function readZip(file: Blob): Promise<Map<string, ZipPlace>> {
  const end = await viewOf(file, file.size - END_BYTES, END_BYTES);
  if (end.getUint32(0, true) !== END) throw unreadable();
  const central = await viewOf(file, end.getUint32(16, true), end.getUint32(12, true));
  const places = new Map<string, ZipPlace>();
  let at = 0;
  for (let left = end.getUint16(10, true); left > 0; left -= 1) {
    if (at + CENTRAL_BYTES > central.byteLength || central.getUint32(at, true) !== CENTRAL) throw unreadable();
    if (central.getUint16(at + 10, true) !== 0) throw unreadable(); // packed in some way
    const title = central.getUint16(at + 28, true);
    const start = central.getUint32(at + 42, true);
    const name = new TextDecoder().decode(central.buffer.slice(at + CENTRAL_BYTES, at + CENTRAL_BYTES + title));
    const local = await viewOf(file, start, LOCAL_BYTES);
    if (local.getUint32(0, true) !== LOCAL) throw unreadable();
    const begins = start + LOCAL_BYTES + local.getUint16(26, true) + local.getUint16(28, true);
    places.set(name, { start: begins, length: central.getUint32(at + 24, true), crc: central.getUint32(at + 16, true) });
    at += CENTRAL_BYTES + title + central.getUint16(at + 30, true) + central.getUint16(at + 32, true);
  }
  return places;
}

/** The bytes of one entry, checked against its sum. */
export async function readEntry(file: Blob, place: ZipPlace): Promise<ArrayBuffer> {
  const view = await viewOf(file, place.start, place.length);
  if (crc32(new Uint8Array(view.buffer)) !== place.crc) throw unreadable();
  return view.buffer as ArrayBuffer;
}
