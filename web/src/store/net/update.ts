/** A new version of the app: noticed, offered, and taken without losing what is being entered. */
import { signal } from "@preact/signals";
import { flushDrafts } from "../drafts";

/** WebKit may never say that the new worker took over, so the page reloads after this long anyway. */
const RELOAD_AFTER_MS = 2_000;

/** A new version is installed and waits to be used. */
export const updateReady = signal(false);

let registration: ServiceWorkerRegistration | null = null;

/** Watch the app's service worker for a new version; looks for one each time the app comes to the front. */
export function watchForUpdate(found: ServiceWorkerRegistration): void {
  registration = found;
  noteWaiting();
  found.addEventListener("updatefound", () => {
    found.installing?.addEventListener("statechange", noteWaiting);
  });
  self.addEventListener("visibilitychange", () => {
    // Offline this fails, and that is no news: the sync words tell.
    found.update().then(noteWaiting, () => undefined);
  });
}

/** A waiting worker beside an active one is an update; the very first worker is not. */
function noteWaiting(): void {
  updateReady.value = Boolean(registration?.waiting && registration.active);
}

/** Save drafts, let the waiting version take over, and load the page anew. */
export async function applyUpdate(): Promise<void> {
  await flushDrafts();
  const container = navigator.serviceWorker;
  const takenOver = new Promise<void>((resolve) => {
    container.addEventListener("controllerchange", () => resolve(), { once: true });
    setTimeout(resolve, RELOAD_AFTER_MS);
  });
  registration?.waiting?.postMessage({ kind: "SKIP_WAITING" });
  await takenOver;
  reload();
}

/** The store compiles against worker types, where a location cannot reload; in a page it can. */
function reload(): void {
  (self.location as WorkerLocation & { reload?: () => void }).reload?.();
}
