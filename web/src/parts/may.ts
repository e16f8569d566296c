/** What this device's role may do on the current site, as shared/roles.json says; the server holds to the same table. */
import type { Role, RowType, StepKind } from "../model/types";
import { catalogue, role } from "../store";

type Deed = "see" | "make" | "edit" | "drop";
type Rights = Record<Deed, RowType[]> & { steps: StepKind[] };
type Table = { roles: Record<string, Rights> };

/** The rights of a role; null while the catalogue has not come. */
export function rightsOf(who: Role | null): Rights | null {
  const table = catalogue.value?.roles as Table | undefined;
  return (who && table?.roles[who]) ?? null;
}

/** While the catalogue has not come nothing is hidden: the server decides in the end. */
export function may(deed: Deed, type: RowType): boolean {
  if (!catalogue.value || !role.value) return role.value !== null;
  return rightsOf(role.value)?.[deed].includes(type) ?? false;
}
