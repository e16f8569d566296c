/** The three ways something can fail on the phone: refused, server not reached, or not stored. Views switch on `code`. */

/** The server, or the phone on its behalf, said no. `code` picks the sentence; `message` is the server's own. */
export class Refused extends Error {
  constructor(
    readonly code: string,
    message: string,
    readonly fields: Record<string, string> = {},
    readonly status = 0,
    readonly retryAfter_s = 0,
  ) {
    super(message);
  }
}

/** No answer that is surely ours: no signal, a stalled line, a sign-in page of somebody's Wi-Fi. */
export class NotReached extends Error {
  readonly code = "not_reached";
}

export type TroubleCode = "storage_full" | "storage_lost" | "storage_failed" | "store_newer" | "store_blocked";

/** The phone itself could not store or read. */
export class StoreTrouble extends Error {
  constructor(readonly code: TroubleCode, readonly detail: string) {
    super(`${code}: ${detail}`);
  }
}
