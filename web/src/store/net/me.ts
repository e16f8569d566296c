/** Who this device is to the server: person, write key, grants. */
import { transact } from "../database";
import { type Grant, type Me, me, setMe } from "../phone";
import { ask } from "./transport";

/** Take over what the server says this device is. A site whose role changed is pulled anew: the new role sees more, or less. */
export async function adoptMe(next: Me): Promise<void> {
  const part = (grant: Grant) => `${grant.role} ${grant.limited ?? false}`;
  const before = new Map((me.peek()?.grants ?? []).map((grant) => [grant.site_id, part(grant)]));
  const changed = next.grants.filter((grant) => before.has(grant.site_id) && before.get(grant.site_id) !== part(grant));
  if (changed.length > 0) {
    await transact(["meta"], "readwrite", async (tx) => {
      const since = { ...((await tx.objectStore("meta").get("since")) as Record<string, number> | undefined) };
      // Not forgotten: of a site without a cursor the server would never say that it was taken away.
      for (const grant of changed) since[grant.site_id] = 0;
      await tx.objectStore("meta").put(since, "since");
    });
  }
  await setMe(next);
}

/** Read grants and the write key of the session again. */
export async function refreshMe(): Promise<void> {
  await adoptMe(await ask<Me>("GET", "/api/me"));
}
