/** How a repair is done with what it lays: a method's own words and waits, or those for earth. Twin of domain/repair/ways.py. */
import type { Method, Mix } from "../catalogue";
import { coatsFor, fillMixFor } from "../materials/coats";
import type { Job, Layer } from "../materials/job";
import { OF_FILLING, laysEarth } from "../waiting/laid";

/** The mixes a job gets by its method, whether or not its size is known yet. */
export function plannedMixes(job: Job, method: Method): string[] {
  if (method.per === "none") return [];
  const fill = fillMixFor(job, method);
  return [...coatsFor(job, method).map((coat) => coat.mix), ...(fill ? [fill] : [])];
}

/**
 * The method with the words, waits and source that fit what it lays here: those for earth, or its own. What is laid is not known before its size is:
 * then what is planned decides. Waits between coats are those of the method's own coats; where somebody chose other coats, the days of their mixes stand alone.
 */
export function asLaid(usual: Method, job: Job, layers: readonly Layer[], mixes: Record<string, Mix>): Method {
  const laid = layers.length > 0 ? layers.map((layer) => layer.mix) : plannedMixes(job, usual);
  // A catalogue kept from before these words came has none.
  const method = usual.earth && laysEarth(laid, mixes) ? { ...usual, ...usual.earth } : usual;
  return job.coats ? { ...method, cure: method.cure.filter((one) => one.wait == null || OF_FILLING.includes(one.wait)) } : method;
}

/** The one way a ticket is told in: that of its defects, or the method's own where they differ. */
export function wayOf(methods: readonly Method[], usual: Method): Method {
  const names = new Set(methods.map((one) => one.words.en.name));
  return names.size === 1 ? methods[0] ?? usual : usual;
}
