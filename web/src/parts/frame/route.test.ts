/** Going and coming back, on a pretend browser that keeps a history as the real one does. */
import { beforeEach, expect, test, vi } from "vitest";

type Entry = { to: string; state: unknown };
let entries: Entry[];
let at: number;
let popped: () => void;

const now = (): Entry => entries[at] as Entry;
const browser = {
  history: {
    get state() { return now().state; },
    pushState(state: unknown, _: string, to: string) { entries = [...entries.slice(0, at + 1), { to, state }]; at += 1; },
    replaceState(state: unknown, _: string, to: string) { entries[at] = { to, state }; },
    back() { setTimeout(() => { at -= 1; popped(); }); },
  },
  location: {
    get pathname() { return now().to.split("?")[0]; },
    get search() { return now().to.includes("?") ? `?${now().to.split("?")[1]}` : ""; },
  },
  window: { addEventListener: (_: string, heard: () => void) => { popped = heard; } },
  document: { getElementById: () => null },
};

async function opened() {
  vi.resetModules();
  return import("./route");
}
const settled = () => new Promise((done) => { setTimeout(done, 5); });

beforeEach(() => {
  entries = [{ to: "/tickets", state: null }];
  at = 0;
  for (const [name, value] of Object.entries(browser)) vi.stubGlobal(name, value);
});

test("after a form is kept, its screen stands in the way back only once", async () => {
  const { go, goBack, path } = await opened();
  go("/ticket/7");
  go("/ticket/7?step=done");
  go("/ticket/7", true);
  await settled();
  expect(path.value).toBe("/ticket/7");
  goBack("/walls");
  await settled();
  expect(path.value).toBe("/tickets");
});

test("what the form adds to the screen behind is shown there", async () => {
  const { go, goBack, path } = await opened();
  go("/elevation/3");
  go("/mark/new?elevation=3");
  go("/mark/9", true);
  go("/elevation/3?chosen=9", true);
  await settled();
  expect(path.value).toBe("/elevation/3?chosen=9");
  expect(now().to).toBe("/elevation/3?chosen=9");
  goBack("/walls");
  await settled();
  expect(path.value).toBe("/tickets");
});

test("a form that leads elsewhere is replaced, and back leads to where it was opened from", async () => {
  const { go, goBack, path } = await opened();
  go("/ticket/new");
  go("/ticket/8", true);
  await settled();
  expect(path.value).toBe("/ticket/8");
  goBack("/walls");
  await settled();
  expect(path.value).toBe("/tickets");
});

test("after a reload the way back is still known", async () => {
  const before = await opened();
  before.go("/ticket/7");
  before.go("/ticket/7?step=done");
  const { go, path } = await opened();
  go("/ticket/7", true);
  await settled();
  expect(path.value).toBe("/ticket/7");
  expect(entries.slice(0, at + 1).map(({ to }) => to)).toEqual(["/tickets", "/ticket/7"]);
});
