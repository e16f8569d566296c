/** The catalogue of words and coefficients: kept on the phone, fetched again when the server's hash differs. */
import { signal } from "@preact/signals";
import type { Catalogue } from "../../model/catalogue";
import { writeCell } from "../database";
import { Refused } from "../refusals";
import { ask } from "./transport";

export type ServerFacts = { name: string; version: string; protocol: { min: number; max: number }; demo: boolean; catalogue: string; now: string };

export const PROTOCOL = 1;
export const catalogue = signal<Catalogue | null>(null);
/** What the server said of itself last; null until reached. */
export const serverFacts = signal<ServerFacts | null>(null);

export function loadCatalogue(kept: unknown): void {
  catalogue.value = (kept as Catalogue | undefined) ?? null;
}

/** Ask the server who it is, and for its catalogue if ours is another. */
export async function askServer(): Promise<void> {
  const facts = await ask<ServerFacts>("GET", "/api/meta");
  serverFacts.value = facts;
  if (facts.protocol.min > PROTOCOL) throw new Refused("protocol_too_old", "This version is too old to send. Take the new version.", {}, 426);
  if (catalogue.peek()?.hash === facts.catalogue) return;
  const fresh = await ask<Catalogue>("GET", "/api/catalogue");
  await writeCell("catalogue", fresh);
  catalogue.value = fresh;
}
