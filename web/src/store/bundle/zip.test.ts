import { expect, test } from "vitest";
import { ZipWriter, crc32, readEntry, readZip } from "./zip";

/** Written by another program (Python's zipfile, entries stored, dated 1980-01-01): `ops.json` and `blobs/ab` with bytes 0 to 255. */
const GOLDEN = "UEsDBBQAAAAAAAAAIQA959uEBwAAAAcAAAAIAAAAb3BzLmpzb257InYiOjF9UEsDBBQAAAAAAAAAIQBzjAUpAAEAAAABAAAIAAAAYmxvYnMvYWIAAQIDBAUGBwgJCgsMDQ4PEBESExQVFhcYGRobHB0eHyAhIiMkJSYnKCkqKywtLi8wMTIzNDU2Nzg5Ojs8PT4/QEFCQ0RFRkdISUpLTE1OT1BRUlNUVVZXWFlaW1xdXl9gYWJjZGVmZ2hpamtsbW5vcHFyc3R1dnd4eXp7fH1+f4CBgoOEhYaHiImKi4yNjo+QkZKTlJWWl5iZmpucnZ6foKGio6SlpqeoqaqrrK2ur7CxsrO0tba3uLm6u7y9vr/AwcLDxMXGx8jJysvMzc7P0NHS09TV1tfY2drb3N3e3+Dh4uPk5ebn6Onq6+zt7u/w8fLz9PX29/j5+vv8/f7/UEsBAhQDFAAAAAAAAAAhAD3n24QHAAAABwAAAAgAAAAAAAAAAAAAAIABAAAAAG9wcy5qc29uUEsBAhQDFAAAAAAAAAAhAHOMBSkAAQAAAAEAAAgAAAAAAAAAAAAAAIABLQAAAGJsb2JzL2FiUEsFBgAAAAACAAIAbAAAAFMBAAAAAA==";
const golden = Uint8Array.from(atob(GOLDEN), (c) => c.charCodeAt(0));
const text = (words: string) => new TextEncoder().encode(words);
const all = Uint8Array.from({ length: 256 }, (_, n) => n);

function write(entries: readonly [string, Uint8Array<ArrayBuffer>][]): Blob {
  const zip = new ZipWriter();
  for (const [name, bytes] of entries) zip.add({ name, bytes });
  return zip.finish();
}

test("the sum is that of the standard check", () => {
  expect(crc32(text("123456789"))).toBe(0xcbf43926);
  expect(crc32(text(""))).toBe(0);
});

test("what is written is byte for byte what another program writes", async () => {
  const made = write([["ops.json", text('{"v":1}')], ["blobs/ab", all]]);
  expect(Buffer.from(await made.arrayBuffer()).equals(Buffer.from(golden))).toBe(true);
});

test("what another program wrote is read", async () => {
  const file = new Blob([golden]);
  const places = await readZip(file);
  expect([...places.keys()]).toEqual(["ops.json", "blobs/ab"]);
  expect(new Uint8Array(await readEntry(file, places.get("blobs/ab") as never))).toEqual(all);
});

test("names beyond ASCII and empty entries come back", async () => {
  const file = write([["höhe/ß.txt", text("")], ["x", text("y")]]);
  const places = await readZip(file);
  expect([...places.keys()]).toEqual(["höhe/ß.txt", "x"]);
  expect((await readEntry(file, places.get("höhe/ß.txt") as never)).byteLength).toBe(0);
});

test("a zip without entries is a zip", async () => {
  expect((await readZip(write([]))).size).toBe(0);
});

test.each([0, 3, 21, 22, golden.length / 2, golden.length - 1])("a file cut after %d bytes is refused with a sentence", async (length) => {
  await expect(readZip(new Blob([golden.slice(0, length)]))).rejects.toMatchObject({ code: "bundle_unreadable" });
});

test("any single changed byte is refused, or changes nothing that is read", async () => {
  for (let at = 0; at < golden.length; at += 1) {
    const bent = golden.slice();
    bent[at] = (bent[at] as number) ^ 0x41;
    const file = new Blob([bent]);
    try {
      const places = await readZip(file);
      for (const [name, place] of places) {
        const bytes = new Uint8Array(await readEntry(file, place));
        if (name === "blobs/ab") expect(bytes).toEqual(all);
        if (name === "ops.json") expect(bytes).toEqual(text('{"v":1}'));
      }
    } catch (error) {
      expect(error, `byte ${at}`).toMatchObject({ code: "bundle_unreadable" });
    }
  }
});
