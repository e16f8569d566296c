/** The first three steps of a site: one wall, one defect, one ticket. How far they have come follows from the rows; nothing is kept of it. */
export const START_STEPS = ["wall", "defect", "ticket"] as const;
export type StartStep = (typeof START_STEPS)[number];
export type Counts = { elevations: number; defects: number; tickets: number; steps: number; storms: number };
/** `next` is null once all three are done. */
export type Start = { done: readonly StartStep[]; next: StartStep | null };

/** Null once the site has outgrown its first steps: a second ticket, work on the first one, or a storm. */
export function startOf({ elevations, defects, tickets, steps, storms }: Counts): Start | null {
  const there: Record<StartStep, boolean> = { wall: elevations > 0, defect: defects > 0, ticket: tickets > 0 };
  const done = START_STEPS.filter((step) => there[step]);
  const next = START_STEPS.find((step) => !there[step]) ?? null;
  const outgrown = tickets > 1 || (tickets > 0 && steps > 0) || (next === null && storms > 0);
  return outgrown ? null : { done, next };
}

/** Of several rows the one made last; of two made at once the one with the greater id. */
export function newestOf<R extends { id: string; made_at: string }>(rows: Iterable<R>): R | null {
  let newest: R | null = null;
  for (const one of rows) {
    if (!newest || one.made_at > newest.made_at || (one.made_at === newest.made_at && one.id > newest.id)) newest = one;
  }
  return newest;
}
