/** What this device's role may do on the current site, as shared/roles.json says; the server holds to the same table. */
import type { RowType } from "../model/types";
import { catalogue, role } from "../store";

type Deed = "see" | "make" | "edit" | "drop";
type Table = { roles: Record<string, Record<Deed, RowType[]>> };

/** While the catalogue has not come nothing is hidden: the server decides in the end. */
export function may(deed: Deed, type: RowType): boolean {
  const now = role.value;
  const table = catalogue.value?.roles as Table | undefined;
  if (!table || !now) return now !== null;
  return table.roles[now]?.[deed].includes(type) ?? false;
}
