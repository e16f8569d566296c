/** Whom the keeper lets in and takes out: links not used yet, devices of a site, and what a link grants. */
import type { Id, Role } from "../../model/types";
import { ask } from "./transport";

export type OpenLink = { id: string; role: Role; handout_id: Id | null; made_by: string | null; made_at: string; expires_at: string };
export type Device = {
  device_id: Id; person: string; device_name: string; role: Role; limited: boolean; handout_ids: Id[]; seen_at: string;
};
/** `role` is null on the link that starts a first site; `tickets` counts those of a hand-out. */
export type LinkPromise = { role: Role | null; site_name: string | null; tickets: number | null; invited_by: string | null; expires_at: string };

/** What a link grants; looking does not use it up. */
export async function lookAtLink(token: string): Promise<LinkPromise> {
  return ask<LinkPromise>("POST", "/api/links", { token });
}

/** The links to a site that could still be used; their secrets are with whoever got them. */
export async function openLinks(site: Id): Promise<OpenLink[]> {
  return (await ask<{ links: OpenLink[] }>("GET", `/api/invites/${site}`)).links;
}

export async function takeBackLink(site: Id, link: string): Promise<void> {
  await ask<void>("DELETE", `/api/invites/${site}/${link}`);
}

export async function devicesOf(site: Id): Promise<Device[]> {
  return (await ask<{ devices: Device[] }>("GET", `/api/devices/${site}`)).devices;
}

/** Take a device's part in a site away; what it had not sent stays on it. */
export async function takeOutDevice(site: Id, device: Id): Promise<void> {
  await ask<void>("DELETE", `/api/devices/${site}/${device}`);
}
