/** One ticket as a whole: the jobs of its defects under the ticket's own choices, estimated one by one and added up unrounded. */
import type { Catalogue, Method } from "../catalogue";
import { type Size, type Wall, jobOf, sizeOf } from "../defect";
import { type Estimate, type Job, estimate } from "../estimate";
import { batches } from "../materials/batch";
import type { Layer, MaterialNeed, MixNeed, Warning } from "../materials/job";
import { exactly, plus, scaled, total } from "../materials/range";
import { type Bags, type Purchase, mergeMixes, mergeNeeds, shoppingList } from "../materials/shopping";
import type { Defect, Id, Range, Reading, Ticket } from "../types";
import { asLaid, plannedMixes, wayOf } from "./ways";

/** One defect with all that the estimate must know of it. */
export type Found = { defect: Defect; readings: readonly Reading[]; wall: Wall };
/** What a person set on the ticket instead of the method's own; null leaves it to the method. */
export type Choices = Pick<Ticket, "coats" | "loss" | "margin_mm">;
/** What holds on this site instead of the usual figures; the thickness factor comes from its own jobs. */
export type SiteWays = { loss: number | null; bags: Bags | null; thickness_factor?: number | null };
export type Book = Pick<Catalogue, "mixes" | "materials">;
/** `method`: as it is laid on this defect. */
export type Part = { defect_id: Id; job: Job; size: Size; estimate: Estimate; method: Method };
export type Repair = {
  /** As the whole ticket is told: for earth where all of it is earth. */
  method: Method;
  parts: Part[];
  area_m2: number;
  as_drawn_m2: number;
  coated_area_m2: number;
  length_m: number;
  count: number;
  loss: Range;
  /** All that is laid, without and with loss. */
  in_place_l: Range;
  with_loss_l: Range;
  mixes: MixNeed[];
  materials: Record<string, MaterialNeed>;
  purchases: Record<string, Purchase>;
  hazards: string[];
  warnings: Warning[];
  engineer_first: boolean;
};

const sum = (values: readonly (number | null | undefined)[]): number => values.reduce<number>((all, one) => all + (one ?? 0), 0);
const inOrder = <T extends string>(lists: readonly (readonly T[])[]): T[] => [...new Set(lists.flat())].sort();

/** The job of one defect as this ticket wants it; the site's usual loss stands in for the method's. */
export function ticketJob(found: Found, choices: Choices, site: SiteWays, mixes: Book["mixes"]): Job {
  const job = jobOf(found.defect, found.readings, found.wall, mixes);
  return { ...job, coats: choices.coats, loss: choices.loss ?? site.loss, margin_mm: choices.margin_mm };
}

/** Reckon a whole ticket. Throws a Refusal where a choice cannot be reckoned with (bad_value, unknown_mix). */
export function reckonRepair(all: readonly Found[], usual: Method, choices: Choices, site: SiteWays, book: Book): Repair {
  const method = { ...usual, thickness_factor: scaled(usual.thickness_factor, site.thickness_factor ?? 1) };
  const parts = all.map((found): Part => {
    const job = ticketJob(found, choices, site, book.mixes);
    const reckoned = estimate(job, method, book.mixes, book.materials);
    return {
      defect_id: found.defect.id, job, size: sizeOf(found.defect, found.readings, found.wall.elevation), estimate: reckoned,
      method: asLaid(usual, job, reckoned.layers, book.mixes),
    };
  });
  return addUp(parts, usual, site, book);
}

function addUp(parts: Part[], method: Method, site: SiteWays, book: Book): Repair {
  const estimates = parts.map((part) => part.estimate);
  const layers = estimates.flatMap((one) => one.layers);
  const materials = mergeNeeds(estimates.map((one) => one.materials));
  const loss = estimates[0]?.loss ?? method.loss;
  return {
    method: wayOf(parts.map((part) => part.method), method),
    parts,
    area_m2: sum(parts.map((part) => part.size.area_m2)),
    as_drawn_m2: sum(parts.map((part) => part.size.as_drawn_m2 ?? part.size.area_m2)),
    coated_area_m2: sum(estimates.map((one) => one.coated_area_m2)),
    length_m: sum(parts.map((part) => part.size.length_m)),
    count: sum(parts.map((part) => part.job.count)),
    loss,
    in_place_l: total(layers.map((layer) => withoutLoss(layer, loss))),
    with_loss_l: total(layers.map((layer) => layer.wet_l)),
    mixes: mixNeeds(estimates, book),
    materials,
    purchases: shoppingList(materials, book.materials, site.bags ?? {}),
    hazards: inOrder([method.hazards, hazardsPlanned(parts, method, book), ...estimates.map((one) => one.hazards)]),
    warnings: inOrder(estimates.map((one) => one.warnings)),
    engineer_first: method.engineer_first,
  };
}

/** What comes with the mixes is told before the size of the work is known too. */
function hazardsPlanned(parts: readonly Part[], method: Method, book: Book): string[] {
  const jobs: Job[] = parts.length > 0 ? parts.map((part) => part.job) : [{}];
  return jobs.flatMap((job) => plannedMixes(job, method)).flatMap((id) => book.mixes[id]?.hazards ?? []);
}

/** What stays on the wall of what is mixed for a layer. */
export function withoutLoss(layer: Layer, loss: Range): Range {
  const factor = plus(exactly(1), loss);
  return { low: layer.wet_l.low / factor.low, likely: layer.wet_l.likely / factor.likely, high: layer.wet_l.high / factor.high };
}

/** Batches of the whole ticket: merged first, then cut into whole batches, so that two small patches share one. */
function mixNeeds(estimates: readonly Estimate[], book: Book): MixNeed[] {
  return Object.entries(mergeMixes(estimates.map((one) => one.mixes))).flatMap(([id, wet_l]) => {
    const mix = book.mixes[id];
    return mix ? [{ mix: id, wet_l, batches: batches(wet_l.likely, mix.container_l, mix.working_h.low, mix.laying_l_per_h) }] : [];
  });
}
