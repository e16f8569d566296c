/** Service worker: holds one exact build of the app and serves it without a network. It never touches the API. */
/** Filled in by build/precache.ts: a name for this build, and [address, SHA-256] of each of its files. */
declare const __BUILD__: { name: string; files: [url: string, sha256: string][] };

const worker = self as unknown as ServiceWorkerGlobalScope;
const OURS = "makegood-app-";
const CACHE = OURS + __BUILD__.name;
const PAGE = "/index.html";
/** Paths that always belong to the server. */
const SERVER = /^\/(api|healthz|s|logout)(\/|$)/;
const held = new Set(__BUILD__.files.map(([url]) => url));

async function hashOf(response: Response): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await response.arrayBuffer()));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** One file of this build: from an older build that holds the same bytes, else fetched past every cache; never another file. */
async function fetchExactly(url: string, sha256: string): Promise<Response> {
  const old = await caches.match(url);
  if (old && (await hashOf(old.clone())) === sha256) return old;
  const response = await fetch(url, { cache: "reload", credentials: "same-origin" });
  if (!response.ok) throw new Error(`${url} answered ${response.status}`);
  if ((await hashOf(response.clone())) !== sha256) throw new Error(`${url} is of another build`);
  return response;
}

/** Hold all files or none: a half-held build would break without signal. */
async function install(): Promise<void> {
  const cache = await caches.open(CACHE);
  try {
    const fetched = await Promise.all(__BUILD__.files.map(async ([url, sha256]) => [url, await fetchExactly(url, sha256)] as const));
    for (const [url, response] of fetched) await cache.put(url, response);
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

/** Older builds go only now, when no page uses them any more. */
async function activate(): Promise<void> {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(OURS) && name !== CACHE).map((name) => caches.delete(name)));
  await worker.clients.claim();
}

/** The held file for an address; the network if the browser has thrown it out. */
async function serve(url: string, request: Request): Promise<Response> {
  const cache = await caches.open(CACHE);
  return (await cache.match(url)) ?? fetch(request);
}

worker.addEventListener("install", (event) => event.waitUntil(install()));
worker.addEventListener("activate", (event) => event.waitUntil(activate()));

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== worker.location.origin || SERVER.test(url.pathname)) return;
  if (request.mode === "navigate") event.respondWith(serve(PAGE, request));
  else if (held.has(url.pathname)) event.respondWith(serve(url.pathname, request));
});

/** A tapped notice brings the open app to the front, at the ticket it told of. */
async function openAt(path: string): Promise<void> {
  const [open] = await worker.clients.matchAll({ type: "window" });
  if (!open) return void (await worker.clients.openWindow(path));
  await open.focus();
  open.postMessage({ kind: "GO", path });
}

worker.addEventListener("notificationclick", (event) => {
  const path: unknown = event.notification.data;
  event.notification.close();
  if (typeof path === "string" && path.startsWith("/ticket/")) event.waitUntil(openAt(path));
});

// Only the person's own tap lets a new build take over: a reload in the middle of an entry is worse than an old version.
worker.addEventListener("message", (event) => {
  if ((event.data as { kind?: string } | null)?.kind === "SKIP_WAITING") void worker.skipWaiting();
});
