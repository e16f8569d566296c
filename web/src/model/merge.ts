/**
 * What a row looks like with changes laid over it: the phone's own, still unsent (`replay`), and anybody's, as the server
 * merges them (`merge`, the twin of server/makegood/domain/merge.py). Both are held by shared/vectors/merge.json.
 */

export type FieldValues = Record<string, unknown>;
/** The last writer of a field: revision, device, instant, op id. */
export type Stamp = readonly [rev: number, device: string, at: string, op: string];
/** A row as the server holds it. */
export type Held = { fields: FieldValues; fv: Record<string, Stamp>; deleted: boolean };
/** One change as far as merging needs it; `base` is the revision its editor saw, `rev` the one it gets. */
export type Edit = {
  op: string; kind: "put" | "del"; device: string; base: number; at: string; rev: number; set?: FieldValues | undefined;
};
/** The answer that did not stand, and the one that did; `*_by` are devices. */
export type Lost = { op: string; field: string; kept: unknown; lost: unknown; kept_by: string; lost_by: string };
export type Merged = { row: Held | null; lost: Lost[] };

const DELETED = "deleted";

/** A row's fields with a phone's own waiting changes laid over them in order; null: not there, or deleted. */
export function replay(base: FieldValues | null, ops: readonly Pick<Edit, "kind" | "set">[]): FieldValues | null {
  let fields: FieldValues = base ?? {};
  let alive = base !== null;
  for (const op of ops) {
    alive = op.kind === "put";
    if (op.kind === "put") fields = { ...fields, ...op.set };
  }
  return alive ? fields : null;
}

/** Lay one change over a row by the server's rule: a field clashes only where another device changed it unseen. */
export function merge(row: Held | null, edit: Edit): Merged {
  if (edit.kind === "del") return row && !row.deleted ? drop(row, edit) : { row, lost: [] };
  if (!row) return { row: begin(edit), lost: [] };
  const fields = { ...row.fields };
  const fv = { ...row.fv };
  const lost: Lost[] = [];
  for (const [name, value] of Object.entries(edit.set ?? {})) {
    if (sameValue(fields[name] ?? null, value)) continue;
    const last = fv[name];
    const clashes = unseen(last, edit);
    if (clashes && later(last, stampOf(edit))) {
      lost.push(loss(edit, name, [fields[name], last[1]], [value, edit.device]));
      continue;
    }
    if (clashes) lost.push(loss(edit, name, [value, edit.device], [fields[name], last[1]]));
    fields[name] = value;
    fv[name] = stampOf(edit);
  }
  if (row.deleted) {
    const last = fv[DELETED];
    if (unseen(last, edit)) lost.push(loss(edit, DELETED, [false, edit.device], [true, last[1]]));
    fv[DELETED] = stampOf(edit);
  }
  return { row: { fields, fv, deleted: false }, lost };
}

function begin(edit: Edit): Held {
  const fields = { ...edit.set };
  const fv = Object.fromEntries(Object.keys(fields).map((name) => [name, stampOf(edit)]));
  return { fields, fv, deleted: false };
}

function drop(row: Held, edit: Edit): Merged {
  const newer = Object.values(row.fv).filter((last) => unseen(last, edit));
  const first = newer[0];
  if (!first) return { row: { ...row, deleted: true, fv: { ...row.fv, [DELETED]: stampOf(edit) } }, lost: [] };
  const last = newer.reduce((one, other) => (later(other, one) ? other : one), first);
  return { row, lost: [loss(edit, DELETED, [false, last[1]], [true, edit.device])] };
}

function unseen(last: Stamp | undefined, edit: Edit): last is Stamp {
  return last !== undefined && last[0] > edit.base && last[1] !== edit.device;
}

/** Whether one stamp counts as made after another; wrong clocks only pick badly here, they lose nothing. */
function later(one: Stamp, other: Stamp): boolean {
  return one[2] === other[2] ? one[3] > other[3] : one[2] > other[2];
}

const stampOf = (edit: Edit): Stamp => [edit.rev, edit.device, edit.at, edit.op];

type Given = [value: unknown, by: string];
const loss = (edit: Edit, field: string, kept: Given, lost: Given): Lost =>
  ({ op: edit.op, field, kept: kept[0], lost: lost[0], kept_by: kept[1], lost_by: lost[1] });

/** Whether two JSON values are the same; the order of names in an object does not count. */
export function sameValue(one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (typeof one !== "object" || typeof other !== "object" || one === null || other === null) return false;
  if (Array.isArray(one) !== Array.isArray(other)) return false;
  const names = Object.keys(one);
  if (names.length !== Object.keys(other).length) return false;
  return names.every((name) => Object.hasOwn(other, name) && sameValue(one[name as keyof typeof one], other[name as keyof typeof other]));
}
