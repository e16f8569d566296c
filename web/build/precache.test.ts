import { createHash } from "node:crypto";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { fillIn, listBuild } from "./precache";

let dist = "";
beforeEach(() => {
  dist = mkdtempSync(join(tmpdir(), "dist-"));
  mkdirSync(join(dist, "assets"));
  for (const [name, text] of [["index.html", "<p>"], ["assets/a-1.js", "1"], ["assets/a-1.js.map", "{}"], ["sw.js", "old"]] as const) {
    writeFileSync(join(dist, name), text);
  }
});
afterEach(() => rmSync(dist, { recursive: true }));

test("every built file is listed with its hash, but neither maps nor the worker itself", () => {
  const hash = (text: string) => createHash("sha256").update(text).digest("hex");
  expect(listBuild(dist, "worker").files).toEqual([["/assets/a-1.js", hash("1")], ["/index.html", hash("<p>")]]);
});

test("the name of the build changes with any file and with the worker, and with nothing else", () => {
  const name = listBuild(dist, "worker").name;
  expect(listBuild(dist, "worker").name).toBe(name);
  expect(listBuild(dist, "worker 2").name).not.toBe(name);
  writeFileSync(join(dist, "index.html"), "<p>2");
  expect(listBuild(dist, "worker").name).not.toBe(name);
});

test("a worker without a place for the list is an error", () => {
  expect(() => fillIn("self.skipWaiting()", listBuild(dist, ""))).toThrow("__BUILD__");
});
