/** The finished work beside the damage, where both were photographed. */
import type { Photo, Ticket } from "../../../model/types";
import { row } from "../../../store";
import { photosOf, stepsOf } from "../../../store/lookup";
import { t } from "../../../words";
import { Card } from "../../../parts/frame/Card";
import { BeforeAfter } from "../../../parts/photo/BeforeAfter";
import { ticketName } from "../../../parts/ticket/gathered";
import { earlierPhoto } from "./stepDraft";

/** The latest photo of a step taken from a known place; else the latest of all, beside the first of the damage. */
function pair(ticket: Ticket): { before: Photo; after: Photo } | null {
  const after = stepsOf(ticket.id).flatMap((step) => photosOf(step.id)).reverse();
  for (const photo of after) {
    const before = row("photo", photo.same_place_as);
    if (before) return { before, after: photo };
  }
  const [before, last] = [earlierPhoto(ticket), after[0]];
  return before && last ? { before, after: last } : null;
}

export function BeforeAfterCard({ ticket }: { ticket: Ticket }) {
  const found = pair(ticket);
  if (!found) return null;
  return <Card title={t("wipe_title")}><BeforeAfter key={found.after.id} {...found} about={ticketName(ticket)} /></Card>;
}
