/** Asking the server, and telling its answers from those of anything else that may sit on the line. */
import { signal } from "@preact/signals";
import { learnClock, me } from "../phone";
import { NotReached, Refused } from "../refusals";

export type Transport = (url: string, init?: RequestInit) => Promise<Response>;

/** An answer that stalls longer than this counts as none; a photo chunk of 1 MiB takes 30 s at 300 kbit/s. */
const PATIENCE_MS = 45_000;
let transport: Transport = (url, init) => fetch(url, init);

/** Put another way of reaching the server in place of fetch. */
export function setTransport(other: Transport): void {
  transport = other;
}

/** Whether the last thing sent was answered by our server. `navigator.onLine` is never believed. */
export const reaching = signal<"unknown" | "reached" | "not_reached">("unknown");

/** A whole answer: its body has arrived to the end. */
export type Answer = { status: number; ok: boolean; headers: Headers; body: ArrayBuffer };

/** Send one request; rejects with NotReached when no whole answer comes, or when `takenBack` says it is no longer wanted. */
export async function send(
  method: string, url: string, headers: Record<string, string> = {}, body?: string | ArrayBuffer, takenBack?: AbortSignal,
): Promise<Answer> {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), PATIENCE_MS);
  const giveUp = () => stop.abort();
  takenBack?.addEventListener("abort", giveUp);
  if (takenBack?.aborted) giveUp();
  const csrf: Record<string, string> = method === "GET" || method === "HEAD" ? {} : { "X-CSRF": me.peek()?.csrf ?? "" };
  try {
    const response = await transport(url, {
      method, headers: { ...csrf, ...headers }, body: body ?? null, signal: stop.signal, credentials: "same-origin", cache: "no-store",
    });
    return { status: response.status, ok: response.ok, headers: response.headers, body: await response.arrayBuffer() };
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    // A question that was taken back says nothing about the line.
    throw takenBack?.aborted ? new NotReached(why) : unreached(why);
  } finally {
    clearTimeout(timer);
    takenBack?.removeEventListener("abort", giveUp);
  }
}

/** Note that the server was not reached, and make the error that says so. */
export function unreached(why: string): NotReached {
  reaching.value = "not_reached";
  return new NotReached(why);
}

/** Ask with JSON and get JSON of our own server; rejects with Refused (it said no) or NotReached (it was not it). */
export async function ask<T>(method: string, url: string, json?: unknown, takenBack?: AbortSignal): Promise<T> {
  const asked_ms = Date.now();
  const headers: Record<string, string> = json === undefined ? {} : { "Content-Type": "application/json" };
  const response = await send(method, url, headers, json === undefined ? undefined : JSON.stringify(json), takenBack);
  if (response.status === 204) return undefined as T;
  const answer = readJson(response);
  if (!response.ok) throw refusalOf(response, answer);
  if (!answer) throw unreached("the answer was not ours");
  reaching.value = "reached";
  learnClock(answer.now, asked_ms);
  return answer as T;
}

function readJson(response: Answer): Record<string, unknown> | null {
  if (!(response.headers.get("Content-Type") ?? "").includes("json")) return null;
  try {
    const answer: unknown = JSON.parse(new TextDecoder().decode(response.body));
    return typeof answer === "object" && answer !== null ? (answer as Record<string, unknown>) : null;
  } catch {
    return null;
  }
}

/** The refusal in a response of our error shape; a bare 413 or 429 may come from a proxy before the server and counts too. */
function refusalOf(response: Answer, answer: Record<string, unknown> | null): Error {
  const { status } = response;
  const wait_s = Number(response.headers.get("Retry-After")) || 0;
  if (answer && typeof answer.code === "string") {
    reaching.value = "reached";
    return new Refused(answer.code, String(answer.message ?? ""), (answer.fields ?? {}) as Record<string, string>, status, wait_s);
  }
  if (status === 413) return new Refused("too_large", "", {}, status);
  if (status === 429) return new Refused("too_many_tries", "", {}, status, wait_s);
  return unreached(`status ${status} without our error shape`);
}

/** The refusal in any failed response. */
export function readRefusal(response: Answer): Error {
  return refusalOf(response, readJson(response));
}

/** A picture from the server, or null if it cannot be had now. */
export async function fetchCopy(url: string): Promise<ArrayBuffer | null> {
  try {
    const response = await send("GET", url);
    return response.ok && (response.headers.get("Content-Type") ?? "").startsWith("image/") ? response.body : null;
  } catch (error) {
    if (error instanceof NotReached) return null;
    throw error;
  }
}
