/** Builds the service worker after the app, with the exact list of files the app consists of. */
import { createHash } from "node:crypto";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { join, relative, resolve, sep } from "node:path";
import { type Plugin, transformWithOxc } from "vite";

export type Build = { name: string; files: [url: string, sha256: string][] };

const WORKER = "sw.js";

/** Every file below `dist` with its address and SHA-256, in the order of addresses; the name is a hash over the list and the worker. */
export function listBuild(dist: string, worker: string): Build {
  const files = readdirSync(dist, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => relative(dist, path) !== WORKER && !/\.(map|gz)$/.test(path))
    .map((path): [string, string] => ["/" + relative(dist, path).split(sep).join("/"), sha256(readFileSync(path))])
    .sort(([a], [b]) => (a < b ? -1 : 1));
  return { name: sha256(JSON.stringify(files) + worker).slice(0, 16), files };
}

function sha256(bytes: string | Buffer): string {
  return createHash("sha256").update(bytes).digest("hex");
}

/** The worker's source with the list in its place; a worker without that place would hold nothing, so that is an error. */
export function fillIn(code: string, build: Build): string {
  if (!code.includes("__BUILD__")) throw new Error("src/sw.ts no longer names __BUILD__");
  return `const __BUILD__ = ${JSON.stringify(build)};\n${code}`;
}

/** A gzipped twin beside each text file, for the server to send as it is: a village line is slow. */
function pack(path: string): void {
  if (/\.(js|css|html|svg|webmanifest)$/.test(path)) writeFileSync(`${path}.gz`, gzipSync(readFileSync(path), { level: 9 }));
}

/** The Vite plugin: writes `sw.js` beside index.html, under a name that never changes. */
export function precache(): Plugin {
  let root = "";
  let dist = "";
  return {
    name: "makegood-precache",
    apply: "build",
    configResolved(config) {
      root = config.root;
      dist = resolve(config.root, config.build.outDir);
    },
    async closeBundle() {
      const source = resolve(root, "src/sw.ts");
      const { code } = await transformWithOxc(readFileSync(source, "utf8"), source, { target: "es2022" });
      const build = listBuild(dist, code);
      writeFileSync(join(dist, WORKER), fillIn(code, build));
      for (const [url] of build.files) pack(join(dist, url));
    },
  };
}
