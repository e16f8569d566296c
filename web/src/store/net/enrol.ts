/** Joining and leaving: a one-time link becomes a session of this device. */
import type { Id, Role } from "../../model/types";
import { STORES, transact, writeCell } from "../database";
import { loadDrafts } from "../drafts";
import { reloadAll } from "../open";
import { parked, photoJobs } from "../outbox";
import { type Me, currentSite, lastSentAt, setMe, setSignedOut } from "../phone";
import { Refused } from "../refusals";
import { inTurn, replacePending, waiting } from "../view";
import { askServer } from "./catalogue";
import { adoptMe } from "./me";
import { JOINING } from "./recover";
import { syncNow } from "./sync";
import { ask } from "./transport";

export type Invite = { link: string; token: string; qr_svg: string; expires_at: string };

/** Enrol this device with a link's token, or on a demo without one; then fetch everything. What waits here is kept. */
export async function enrol(how: string | { demo: true }, person: string, deviceName: string): Promise<Me> {
  const proof = typeof how === "string" ? { token: how } : how;
  await writeCell(JOINING, true);
  const mine = await ask<Me>("POST", "/api/enrol", { ...proof, person, device_name: deviceName });
  await adoptMe(mine);
  await setSignedOut(false);
  await askServer();
  await syncNow();
  return mine;
}

/** A one-time link for another device to join a site; with a hand-out it opens that list and no more. */
export async function invite(site: Id, role: Role, handout?: Id): Promise<Invite> {
  return ask<Invite>("POST", "/api/invites", { site_id: site, role, ...(handout ? { handout_id: handout } : {}) });
}

/** What `meta` holds of a session; settings and the catalogue stay. */
const SESSION_CELLS = ["me", "epoch", "since", "current_site", "labels", "last_sent_at", "signed_out", "sweep", "anew", "cleared_at", JOINING];

async function endSession(): Promise<void> {
  try {
    await ask<void>("POST", "/api/leave", {});
  } catch (error) {
    // A session that was ended from elsewhere needs no ending.
    if (!(error instanceof Refused && error.status === 401)) throw error;
  }
}

/** End the session and clear this phone. Refuses while anything is only here, unless `evenUnsent`. */
export async function leave(evenUnsent = false): Promise<void> {
  const unsent = waiting.peek() + parked.peek().length + photoJobs.peek().filter((job) => job.state !== "sent").length;
  if (unsent > 0 && !evenUnsent) {
    throw new Refused("unsent_work", "Some changes are only on this phone. Send them first, or leave and lose them.", { unsent: String(unsent) });
  }
  await endSession();
  await transact(STORES, "readwrite", async (tx) => {
    for (const name of STORES) if (name !== "meta") await tx.objectStore(name).clear();
    for (const cell of SESSION_CELLS) await tx.objectStore("meta").delete(cell);
  });
  await inTurn(() => replacePending([]));
  parked.value = [];
  photoJobs.value = [];
  lastSentAt.value = null;
  loadDrafts([]);
  currentSite.value = null;
  await setMe(null);
  await reloadAll();
}
