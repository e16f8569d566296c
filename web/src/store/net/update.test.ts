import "fake-indexeddb/auto";
import { beforeEach, expect, test, vi } from "vitest";

const page = new EventTarget();
const container = new EventTarget();
const reload = vi.fn();

type Worker = EventTarget & { postMessage: ReturnType<typeof vi.fn> };
const worker = (): Worker => Object.assign(new EventTarget(), { postMessage: vi.fn() });

function registration(active: Worker | null): EventTarget & Record<string, unknown> {
  return Object.assign(new EventTarget(), { active, waiting: null, installing: null, update: vi.fn(() => Promise.reject(new TypeError("no line"))) });
}

beforeEach(() => {
  vi.resetModules();
  reload.mockClear();
  vi.stubGlobal("self", Object.assign(page, { location: { reload } }));
  vi.stubGlobal("navigator", { serviceWorker: container });
});

async function watch(found: object) {
  const update = await import("./update");
  update.watchForUpdate(found as ServiceWorkerRegistration);
  return update;
}

test("the very first worker is no update; one that waits beside an active one is", async () => {
  const first = registration(null);
  const update = await watch(first);
  const installing = worker();
  first.installing = installing;
  first.dispatchEvent(new Event("updatefound"));
  first.waiting = installing;
  installing.dispatchEvent(new Event("statechange"));
  expect(update.updateReady.value).toBe(false);
  first.active = worker();
  installing.dispatchEvent(new Event("statechange"));
  expect(update.updateReady.value).toBe(true);
});

test("coming to the front looks for a new version, and no line is no trouble", async () => {
  const found = registration(worker());
  await watch(found);
  page.dispatchEvent(new Event("visibilitychange"));
  await Promise.resolve();
  expect(found.update).toHaveBeenCalledOnce();
});

test.each([["when the new worker took over", true], ["after two seconds if nothing says so", false]])("the page is loaded anew %s", async (_when, says) => {
  vi.useFakeTimers();
  const found = registration(worker());
  const waiting = worker();
  found.waiting = waiting;
  const update = await watch(found);
  const applied = update.applyUpdate();
  await vi.advanceTimersByTimeAsync(100);
  expect(waiting.postMessage).toHaveBeenCalledWith({ kind: "SKIP_WAITING" });
  expect(reload).not.toHaveBeenCalled();
  if (says) container.dispatchEvent(new Event("controllerchange"));
  else await vi.advanceTimersByTimeAsync(2000);
  await applied;
  expect(reload).toHaveBeenCalledOnce();
  vi.useRealTimers();
});
