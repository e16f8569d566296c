/** A phone whose storage the system has cleared still has its session: take it up again, and say what is gone. */
import { STORES, readCell, transact } from "../database";
import { type Me, nowIso, setClearedAt, setSignedOut } from "../phone";
import { Refused } from "../refusals";
import { adoptMe } from "./me";
import { ask } from "./transport";

/** Whether a session was found for a store that knows of none. A phone that was left by its person has ended its session, so that one is not found. */
export async function recoverSession(): Promise<boolean> {
  if (!(await isBlank())) return false;
  const mine = await askMe();
  if (!mine) return false;
  // The session may be one that is being opened here at this moment, or whose answer was cut: then nothing was cleared.
  if (!(await readCell(JOINING))) await setClearedAt(nowIso());
  await adoptMe(mine);
  await setSignedOut(false);
  return true;
}

/** The cell of `meta` written before this device asks to be enrolled; what clears the storage takes it too. */
export const JOINING = "joining";

/** What is made before a person has done anything: settings of the device, the catalogue of words, and a link taken up. */
const HARMLESS = new Set(["settings", "catalogue", "clock_offset_ms", "me", "current_site", JOINING]);

async function isBlank(): Promise<boolean> {
  return transact(STORES, "readonly", async (tx) => {
    for (const name of STORES) if (name !== "meta" && (await tx.objectStore(name).count()) > 0) return false;
    return (await tx.objectStore("meta").getAllKeys()).every((cell) => HARMLESS.has(cell));
  });
}

async function askMe(): Promise<Me | null> {
  // Asked of a stranger, /api/me would leave an error in the browser's own log at every first visit.
  const { enrolled } = await ask<{ enrolled?: boolean }>("GET", "/api/meta");
  if (!enrolled) return null;
  try {
    return await ask<Me>("GET", "/api/me");
  } catch (error) {
    if (error instanceof Refused && error.status === 401) return null;
    throw error;
  }
}
