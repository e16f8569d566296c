/**
 * A small server in memory for the store's tests: the protocol of DEVELOPERS.md 3.2 and 3.3 as a plain function, with a
 * line between that can be cut before or after the server has acted.
 */
import type { Id, Op, OpResult, PulledRow } from "../../model/types";

type Kept = { row: PulledRow; rev: number };
type Blob_ = { length: number; parts: Uint8Array[]; offset: number; unfinished?: boolean };
/** What happens to the next requests: lost on the way, lost on the way back, or a strange answer from the line. */
export type Fault = "lose_request" | "lose_answer" | "captive_portal" | Response;

const json = (body: unknown, status = 200) => new Response(JSON.stringify(body), { status, headers: { "Content-Type": "application/json" } });
const no = (status: number, code: string) => json({ code, message: `${code}.`, fields: {} }, status);
const stateOf = (one: Blob_) => ({
  "Upload-Offset": String(one.offset), "Upload-Length": String(one.length), "Upload-Complete": one.offset === one.length && !one.unfinished ? "?1" : "?0",
});

export class PretendServer {
  epoch = "e1";
  rev = 0;
  rows = new Map<string, Kept>();
  answers = new Map<Id, OpResult>();
  blobs = new Map<string, Blob_>();
  /** Every request that reached the server, as "METHOD path". */
  log: string[] = [];
  pushes: Op[][] = [];
  chunks: number[] = [];
  /** Applied in order to requests whose path begins so; used up one by one. */
  faults: { path: string; fault: Fault }[] = [];
  down = false;
  /** Stop once between the last bytes of a photo and keeping it. */
  stopsAtTheEnd = false;
  signedOut = false;
  mostOps = 200;
  /** Answer for the first so many ops of a push only. */
  mostAnswers = Infinity;
  role = "keeper";
  sites: Id[] = [];
  refuse: (op: Op) => string | null = () => null;
  /** How the route for news behaves, how many questions are open, and the last one's query. */
  waitRoute: "waits" | "missing" | "always news" | "never waits" = "waits";
  asked = "";
  /** Below this rev of a site a cursor is too old; what was removed before is forgotten. */
  horizon = new Map<Id, number>();
  private open = new Set<{ since: Record<Id, number>; answer: (news: boolean) => void; cut: () => void }>();
  private applied = new Map<Id, number>();

  transport = async (url: string, init: RequestInit = {}): Promise<Response> => {
    if (this.down) throw new TypeError("no line");
    const at = this.faults.findIndex((one) => url.startsWith(one.path));
    const fault = at < 0 ? null : (this.faults.splice(at, 1)[0]?.fault ?? null);
    if (fault === "lose_request") throw new TypeError("cut on the way");
    if (fault === "captive_portal") return new Response("<html>Sign in to the Wi-Fi</html>", { headers: { "Content-Type": "text/html" } });
    if (fault instanceof Response) return fault;
    const answer = await this.handle(url, init);
    if (fault === "lose_answer") throw new TypeError("cut on the way back");
    return answer;
  };

  /** How often an op took effect; 1 is right. */
  timesApplied(op: Id): number {
    return this.applied.get(op) ?? 0;
  }

  /** A row written by somebody else. */
  write(type: PulledRow["type"], site: Id, id: Id, d: Record<string, unknown>): void {
    this.rev += 1;
    const old = this.rows.get(`${site}/${type}/${id}`)?.row.d ?? { made_at: "2026-01-01T00:00:00.000Z", made_by: "Other" };
    this.rows.set(`${site}/${type}/${id}`, { rev: this.rev, row: { type, id, site, rev: this.rev, d: { ...old, ...d } } });
    if (!this.sites.includes(site)) this.sites.push(site);
    for (const one of this.open) if (this.rev > (one.since[site] ?? Infinity)) one.answer(true);
  }

  remove(type: PulledRow["type"], site: Id, id: Id): void {
    this.rev += 1;
    this.rows.set(`${site}/${type}/${id}`, { rev: this.rev, row: { type, id, site, rev: this.rev, deleted: true } });
  }

  get waiting(): number {
    return this.open.size;
  }

  cutWaits(): void {
    for (const one of this.open) one.cut();
  }

  private wait(url: string, stop: AbortSignal | null | undefined): Promise<Response> {
    if (this.waitRoute === "missing") return Promise.resolve(no(404, "not_found"));
    this.asked = url;
    const since = Object.fromEntries(new URLSearchParams(url.split("?")[1]).getAll("rev").map((one) => {
      const [site = "", rev = ""] = one.split(":");
      return [site, Number(rev)];
    }));
    const told = (news: boolean) => json({ epoch: this.epoch, news });
    if (this.waitRoute !== "waits") return Promise.resolve(told(this.waitRoute === "always news"));
    if ([...this.rows.values()].some((one) => one.rev > (since[one.row.site] ?? Infinity))) return Promise.resolve(told(true));
    return new Promise((done, fail) => {
      const end = (deed: () => void) => () => {
        this.open.delete(one);
        deed();
      };
      const cut = end(() => fail(new TypeError("cut while waiting")));
      const one = { since, answer: (news: boolean) => end(() => done(told(news)))(), cut };
      this.open.add(one);
      if (stop?.aborted) cut();
      stop?.addEventListener("abort", cut);
    });
  }

  private async handle(url: string, init: RequestInit): Promise<Response> {
    const method = init.method ?? "GET";
    this.log.push(`${method} ${url.split("?")[0]}`);
    const me = { device_id: "d1", person: "Ida", csrf: "c1", epoch: this.epoch, may_found: true, grants: this.sites.map((site_id) => ({ site_id, role: this.role })) };
    if (url === "/api/meta") return json({ name: "makegood", version: "0", protocol: { min: 1, max: 1 }, demo: false, enrolled: true, catalogue: "h1", now: new Date().toISOString() });
    if (url === "/api/catalogue") return json({ hash: "h1" });
    if (url === "/api/enrol") return json(me, 201);
    if (this.signedOut) return no(401, "not_enrolled");
    if (url === "/api/me") return json(me);
    if (url === "/api/leave") return new Response(null, { status: 204 });
    if (url.startsWith("/api/sync/wait")) return this.wait(url, init.signal);
    if (url.startsWith("/api/blobs/")) return this.blob(method, url, init);
    const body = JSON.parse(String(init.body)) as { epoch: string | null; ops: Op[]; since: Record<Id, number>; limit: number; anew?: Id[] };
    if (body.epoch !== null && body.epoch !== this.epoch) return no(409, "epoch_changed");
    return url === "/api/sync/push" ? this.push(body.ops) : this.pull(body.since, body.limit, body.anew);
  }

  private push(ops: Op[]): Response {
    if (ops.length > this.mostOps) return no(413, "too_large");
    this.pushes.push(ops);
    const results = ops.slice(0, this.mostAnswers).map((op) => this.answers.get(op.op) ?? this.take(op));
    return json({ epoch: this.epoch, now: new Date().toISOString(), results });
  }

  private take(op: Op): OpResult {
    const code = this.refuse(op);
    const result: OpResult = code ? { op: op.op, st: "rejected", code, say: `${code}.` } : { op: op.op, st: "applied", rev: this.rev + 1 };
    this.answers.set(op.op, result);
    if (code) return result;
    this.applied.set(op.op, this.timesApplied(op.op) + 1);
    if (op.kind === "del") this.remove(op.type, op.site, op.id);
    else this.write(op.type, op.site, op.id, { ...op.set });
    return result;
  }

  private pull(since: Record<Id, number>, limit: number, anew: Id[] = []): Response {
    const tooOld = Object.entries(since).filter(([site, rev]) => rev > 0 && !anew.includes(site) && rev < (this.horizon.get(site) ?? 0));
    if (tooOld.length) {
      const fields = Object.fromEntries(tooOld.map(([site]) => [site, String(this.horizon.get(site))]));
      return json({ code: "horizon", message: "horizon.", fields }, 410);
    }
    const news = [...this.rows.values()].filter((one) => one.rev > (since[one.row.site] ?? 0) && this.sites.includes(one.row.site));
    news.sort((a, b) => a.rev - b.rev);
    const page = news.slice(0, limit);
    const next: Record<Id, number> = Object.fromEntries(this.sites.map((site) => [site, since[site] ?? 0]));
    for (const one of page) next[one.row.site] = one.rev;
    const drop = Object.keys(since).filter((site) => !this.sites.includes(site));
    return json({ epoch: this.epoch, now: new Date().toISOString(), more: news.length > limit, since: next, drop, rows: page.map((one) => one.row) });
  }

  private blob(method: string, url: string, init: RequestInit): Response {
    const [path = "", query = ""] = url.split("?");
    const blob = this.blobs.get(path);
    if (method === "PUT") {
      if (blob) return new Response(null, { status: 200, headers: stateOf(blob) });
      const begun: Blob_ = { length: Number(query.split("=")[1]), parts: [], offset: 0 };
      this.blobs.set(path, begun);
      return this.takeChunk(begun, init, 201);
    }
    if (!blob) return method === "HEAD" ? new Response(null, { status: 404 }) : no(410, "upload_gone");
    if (method === "HEAD") return new Response(null, { status: 200, headers: stateOf(blob) });
    if (Number(new Headers(init.headers).get("Upload-Offset")) !== blob.offset) return no(409, "wrong_offset");
    return this.takeChunk(blob, init, 204);
  }

  private takeChunk(blob: Blob_, init: RequestInit, status: number): Response {
    const chunk = new Uint8Array(init.body as ArrayBuffer);
    blob.parts.push(chunk);
    blob.offset += chunk.length;
    this.chunks.push(chunk.length);
    blob.unfinished = this.stopsAtTheEnd && blob.offset === blob.length;
    if (blob.unfinished) {
      this.stopsAtTheEnd = false;
      return no(507, "server_full");
    }
    return new Response(null, { status, headers: stateOf(blob) });
  }

  /** The bytes of a photo as they arrived. */
  bytesOf(site: Id, sha256: string): Uint8Array {
    const parts = this.blobs.get(`/api/blobs/${site}/${sha256}`)?.parts ?? [];
    const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
    let at = 0;
    for (const part of parts) {
      all.set(part, at);
      at += part.length;
    }
    return all;
  }
}
