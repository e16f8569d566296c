import { expect, test } from "vitest";
import { checkPicture, hashOf, mediaTypeOf } from "./picture";

const bytes = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0)).buffer;

test.each([
  ["\xff\xd8\xff\xe0....", "image/jpeg"],
  ["\x89PNG\r\n\x1a\n....", "image/png"],
  ["\0\0\0\x18ftypheic....", "image/heic"],
  ["\0\0\0\x18ftypmp42....", null],
  ["hello, I am .jpg", null],
  ["", null],
])("the first bytes %j are %s", (text, kind) => {
  expect(mediaTypeOf(bytes(text))).toBe(kind);
});

test("what is no picture is refused", async () => {
  await expect(checkPicture(bytes("GIF89a.........."))).rejects.toMatchObject({ code: "not_a_picture" });
});

test("the name is the SHA-256 of the bytes", async () => {
  // FIPS 180-2, appendix B.1.
  expect(await hashOf(bytes("abc"))).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
});
