/** Opening: the few rows of the first screen at once, then the rest; and reading afresh what another tab or a pull has changed. */
import { signal } from "@preact/signals";
import { sameValue } from "../model/merge";
import type { Id, RowType } from "../model/types";
import { type BaseRow, type Deal, closeDatabase, readRows, transact, writeCell } from "./database";
import { clearThrown, loadDrafts } from "./drafts";
import { looks, rereadLooks } from "./looked";
import { loadCatalogue } from "./net/catalogue";
import { parked, photoJobs } from "./outbox";
import { currentSite, loadPhone, setSettings, settings, writes } from "./phone";
import { type TabWord, leaveTabs, listenToTabs } from "./tabs";
import { type Key, addBase, inTurn, keysBelow, replaceBase, replacePending, sites, waitingKeys, waitingNumbers } from "./view";

/** True once the first screen can be drawn; false while the database is being opened. */
export const ready = signal(false);
/** True once every row of the current site is in memory. */
export const whole = signal(false);

/** The cursors up to which this tab shows what is stored. */
let shownSince: Readonly<Record<Id, number>> = {};
/** A pull of this tab's own has come so far, and is about to show it. */
export function showsSince(since: Readonly<Record<Id, number>>): void {
  shownSince = since;
}

/** The first screen's types: few rows, read before the thousands of marks and readings. */
const FIRST = ["structure", "elevation"];

/** Open the store and load it; resolves when everything is in memory. On failure `troubles` is set. */
export async function openStore(): Promise<void> {
  const [cells] = await Promise.all([readCells(), loadQueues()]);
  loadPhone(cells);
  loadCatalogue(cells.get("catalogue"));
  looks.value = (cells.get("looked") as typeof looks.value | undefined) ?? {};
  currentSite.value = (cells.get("current_site") as Id | undefined) ?? null;
  await inTurn(async () => replaceBase(await readBase((tx, site) => readFirst(tx, site))));
  chooseSomeSite();
  ready.value = true;
  listenToTabs((word) => {
    void hear(word);
  });
  await reloadAll();
  await clearThrown();
}

async function readCells(): Promise<ReadonlyMap<string, unknown>> {
  return transact(["meta"], "readonly", async (tx) => {
    const [names, values] = await Promise.all([tx.objectStore("meta").getAllKeys(), tx.objectStore("meta").getAll()]);
    return new Map<string, unknown>(names.map((name, i) => [name, values[i]]));
  });
}

/** See what another tab has stored of which its word never came, because it died. */
export async function catchUp(): Promise<void> {
  const stored = await transact(["meta", "outbox", "parked", "photo_jobs"], "readonly", async (tx) => ({
    since: ((await tx.objectStore("meta").get("since")) ?? {}) as Record<Id, number>,
    waiting: await tx.objectStore("outbox").getAllKeys(),
    parked: await tx.objectStore("parked").getAllKeys(),
    jobs: (await tx.objectStore("photo_jobs").getAll()).map((job) => job.state),
  }));
  if (!sameValue(stored.since, shownSince)) await reloadAll();
  const here = { waiting: waitingNumbers(), parked: parked.peek().map((one) => one.id), jobs: photoJobs.peek().map((job) => job.state) };
  if (!sameValue({ waiting: stored.waiting, parked: [...stored.parked].sort(), jobs: stored.jobs }, { ...here, parked: here.parked.sort() })) await loadQueues();
}

async function loadQueues(): Promise<void> {
  await inTurn(async () => {
    const all = await transact(["outbox", "parked", "photo_jobs", "draft", "base"], "readonly", async (tx) => {
      const outbox = await tx.objectStore("outbox").getAll();
      return {
        outbox,
        rows: await readRows(tx, keysBelow(outbox)),
        parked: await tx.objectStore("parked").getAll(),
        jobs: await tx.objectStore("photo_jobs").getAll(),
        drafts: await tx.objectStore("draft").getAll(),
      };
    });
    replacePending(all.outbox, all.rows);
    parked.value = all.parked;
    photoJobs.value = all.jobs;
    loadDrafts(all.drafts);
  });
}

type Reader = (tx: Deal, site: Id) => Promise<BaseRow[]>;

async function readBase(read: Reader): Promise<BaseRow[]> {
  return transact(["base", "meta"], "readonly", async (tx) => {
    const since = ((await tx.objectStore("meta").get("since")) as Record<Id, number> | undefined) ?? {};
    const rows: BaseRow[] = [];
    const known = new Set([...Object.keys(since), ...(currentSite.peek() ? [currentSite.peek() as Id] : [])]);
    for (const site of known) {
      const own = await tx.objectStore("base").get([site, "site", site]);
      if (own) rows.push(own);
    }
    shownSince = since;
    const current = currentSite.peek();
    return current ? [...rows, ...(await read(tx, current))] : rows;
  });
}

async function readFirst(tx: Deal, site: Id): Promise<BaseRow[]> {
  const parts = await Promise.all(FIRST.map((type) => tx.objectStore("base").getAll(IDBKeyRange.bound([site, type], [site, type, []]))));
  // A waiting edit must not show before its row, as a row with gaps.
  const below = await readRows(tx, waitingKeys().filter((key) => key.site === site));
  return [...parts.flat(), ...below];
}

const readWhole: Reader = (tx, site) => tx.objectStore("base").getAll(IDBKeyRange.bound([site], [site, []]));

/** Read the current site's rows and all site rows afresh. */
export async function reloadAll(): Promise<void> {
  await inTurn(async () => {
    replaceBase(await readBase(readWhole));
    whole.value = true;
  });
  chooseSomeSite();
}

/** Read some rows afresh. */
export async function rereadRows(keys: readonly Key[]): Promise<void> {
  await inTurn(async () => {
    const wanted = keys.filter((key) => key.site === currentSite.peek() || key.type === "site");
    addBase(await transact(["base"], "readonly", (tx) => readRows(tx, wanted)));
  });
  chooseSomeSite();
}

/** If the chosen site is gone (or none was chosen), take the first there is. */
function chooseSomeSite(): void {
  const known = sites.peek();
  const first = known[0];
  if (first && !known.some((site) => site.id === currentSite.peek())) void chooseSite(first.id);
}

/** Bring another site to the screen; resolves when its rows are in memory. */
export async function chooseSite(id: Id): Promise<void> {
  if (currentSite.peek() === id) return;
  currentSite.value = id;
  whole.value = false;
  await writeCell("current_site", id);
  if (settings.peek().currentSurvey) await setSettings({ currentSurvey: null });
  await reloadAll();
}

/** Bring the site to the screen, of all on this phone, that holds a row: a code on paper names no site. Null where none holds it. */
export async function chooseSiteOf(type: RowType, id: Id): Promise<Id | null> {
  const others = sites.peek().map((site) => site.id).filter((site) => site !== currentSite.peek());
  const found = await transact(["base"], "readonly", (tx) => readRows(tx, others.map((site) => ({ site, type, id }))));
  const waits = waitingKeys().find((key) => key.type === type && key.id === id && others.includes(key.site));
  const site = found.find((row) => !row.deleted)?.site ?? waits?.site ?? null;
  if (site) await chooseSite(site);
  return site;
}

async function hear(word: TabWord): Promise<void> {
  if (word.kind === "rows") await rereadRows(word.keys);
  if (word.kind === "everything") await reloadAll();
  if (word.kind === "everything" || word.kind === "looks") await rereadLooks();
  await loadQueues();
  // The tab that holds the sync lock may be this one: it must look again.
  if (word.kind === "outbox") writes.value += 1;
}

/** Let go of the database and the other tabs; nothing is lost. */
export async function closeStore(): Promise<void> {
  leaveTabs();
  await inTurn(closeDatabase);
  ready.value = false;
  whole.value = false;
}
