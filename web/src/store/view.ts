/**
 * What the screens see: base rows of the current site with the outbox replayed over them. Signals hold new maps at each
 * change and are never mutated. Every change of what lies behind them goes through `inTurn`, so that a slow reading of
 * the database can never put an older state over a newer one.
 */
import { type ReadonlySignal, type Signal, batch, computed, signal } from "@preact/signals";
import { replay } from "../model/merge";
import type { Id, Op, RowType, Rows, Site } from "../model/types";
import type { BaseRow, WaitingOp } from "./database";
import { FIELDS, ROW_TYPES, emptyRow } from "./fields";
import { currentSite, me } from "./phone";

export type Key = { site: Id; type: string; id: Id };
type AnyRow = Rows[RowType];
type AnyTable = ReadonlyMap<Id, AnyRow>;

const NO_OPS: readonly WaitingOp[] = [];
const base = new Map<string, BaseRow>();
let pending: readonly WaitingOp[] = [];
let pendingBy = new Map<string, WaitingOp[]>();
const tables = Object.fromEntries(ROW_TYPES.map((type) => [type, signal<AnyTable>(new Map())])) as Record<RowType, Signal<AnyTable>>;
const siteRows = signal<ReadonlyMap<Id, Site>>(new Map());

/** How many changes wait to be sent, over all sites. */
export const waiting = signal(0);
/** Every site on this phone, by name. */
export const sites: ReadonlySignal<readonly Site[]> = computed(() =>
  [...siteRows.value.values()].sort((a, b) => a.name.localeCompare(b.name) || a.id.localeCompare(b.id)),
);

/** Grows with each change of the rows on the current site, also where it is a deletion. */
export const rowsTurn = signal(0);

let turn: Promise<unknown> = Promise.resolve();
/** Run `deed` after every earlier one has ended, whether it ended well or not. */
export function inTurn<T>(deed: () => Promise<T> | T): Promise<T> {
  const next = turn.then(deed, deed);
  turn = next.catch(() => undefined);
  return next;
}

const slot = (key: Key) => `${key.site}/${key.type}/${key.id}`;
const isRowType = (type: string): type is RowType => Object.hasOwn(FIELDS, type);

/** The rows of `type` on the current site, as shown. */
export function table<T extends RowType>(type: T): ReadonlySignal<ReadonlyMap<Id, Rows[T]>> {
  return tables[type] as unknown as ReadonlySignal<ReadonlyMap<Id, Rows[T]>>;
}

/** One row of the current site, or undefined; reading it in a view subscribes to its table. */
export function row<T extends RowType>(type: T, id: Id | null | undefined): Rows[T] | undefined {
  return id ? table(type).value.get(id) : undefined;
}

/** A base row with waiting ops replayed; undefined if it is not there or was dropped. */
export function replayOps(type: RowType, base: BaseRow | undefined, ops: readonly Op[], person: string): AnyRow | undefined {
  const first = ops[0];
  // An edit whose row has not come yet (after a restored backup) has too few fields to be shown.
  if (!base && (!first || first.base > 0)) return undefined;
  // A dropped row shows again, whole, under an edit that has not been sent: the server will revive it.
  const fields = base?.deleted && !first ? null : replay(base?.d ?? null, ops);
  if (!fields) return undefined;
  const made = { made_at: fields.made_at ?? first?.at, made_by: fields.made_by ?? person };
  const id = base?.id ?? first?.id;
  return { ...emptyRow(type), ...fields, ...made, id, site_id: base?.site ?? first?.site, rev: base?.rev ?? 0 } as AnyRow;
}

function shown(key: Key): AnyRow | undefined {
  if (!isRowType(key.type)) return undefined;
  const place = slot(key);
  return replayOps(key.type, base.get(place), pendingBy.get(place) ?? NO_OPS, me.peek()?.person ?? "");
}

/** Work out the rows of `keys` anew and publish them in one go. */
function refresh(keys: Iterable<Key>): void {
  const touched = new Map<RowType, Map<Id, AnyRow>>();
  let sitesNow: Map<Id, Site> | null = null;
  for (const key of keys) {
    if (!isRowType(key.type)) continue;
    const now = shown(key);
    if (key.type === "site") {
      sitesNow ??= new Map(siteRows.peek());
      setOrDrop(sitesNow, key.id, now as Site | undefined);
    }
    if (key.site !== currentSite.peek()) continue;
    const rows = touched.get(key.type) ?? new Map(tables[key.type].peek());
    touched.set(key.type, rows);
    setOrDrop(rows, key.id, now);
  }
  batch(() => {
    for (const [type, rows] of touched) tables[type].value = rows;
    if (sitesNow) siteRows.value = sitesNow;
    waiting.value = pending.length;
    rowsTurn.value += 1;
  });
}

function setOrDrop<V>(map: Map<Id, V>, id: Id, value: V | undefined): void {
  if (value === undefined) map.delete(id);
  else map.set(id, value);
}

function keysOf(ops: readonly Op[]): Key[] {
  return ops.map(({ site, type, id }) => ({ site, type, id }));
}

/** Rows that have changes waiting. */
export function waitingKeys(): Key[] {
  return keysOf(pending);
}

/** The places in the outbox of what this tab shows as waiting. */
export function waitingNumbers(): number[] {
  return pending.map((op) => op.n);
}

function setPendingList(ops: readonly WaitingOp[]): void {
  pending = ops;
  pendingBy = new Map();
  for (const op of ops) {
    const list = pendingBy.get(slot(op));
    if (list) list.push(op);
    else pendingBy.set(slot(op), [op]);
  }
}

/** Take over the outbox as read from the database, with the rows `keysBelow` named as they were at that moment. */
export function replacePending(ops: readonly WaitingOp[], rows: readonly BaseRow[] = []): void {
  const before = keysOf(pending);
  for (const row of rows) keepBase(row);
  setPendingList(ops);
  refresh([...before, ...keysOf(ops), ...rows]);
}

/** Rows to read together with the outbox: what has left it is in its row by now, and an edit alone is no whole row. */
export function keysBelow(ops: readonly WaitingOp[]): Key[] {
  const there = new Set(ops.map((op) => op.op));
  const left = pending.filter((op) => !there.has(op.op));
  const unread = ops.filter((op) => !base.has(slot(op)));
  return keysOf([...left, ...unread]).filter((key) => key.site === currentSite.peek() || key.type === "site");
}

const byPlace = (a: WaitingOp, b: WaitingOp) => a.n - b.n;

/**
 * Add ops just kept; an op that a reading of the database brought already is not added twice. They may come here in
 * another order than they were kept in: the later one in the outbox is shown, as it is the later one to be sent.
 */
export function addPending(ops: readonly WaitingOp[]): void {
  const fresh = ops.filter((op) => !pendingBy.get(slot(op))?.some((one) => one.op === op.op));
  pending = [...pending, ...fresh].sort(byPlace);
  for (const op of fresh) pendingBy.set(slot(op), [...(pendingBy.get(slot(op)) ?? []), op].sort(byPlace));
  refresh(keysOf(ops));
}

/** Answered ops leave; the base rows they were folded into come in the same breath. */
export function settlePending(answered: ReadonlySet<Id>, folded: readonly BaseRow[]): void {
  const gone = pending.filter((op) => answered.has(op.op));
  for (const row of folded) keepBase(row);
  setPendingList(pending.filter((op) => !answered.has(op.op)));
  refresh([...keysOf(gone), ...folded]);
}

function keepBase(row: BaseRow): void {
  if (row.site === currentSite.peek() || row.type === "site") base.set(slot(row), row);
}

/** Take in rows that a pull or another tab brought. */
export function addBase(rows: readonly BaseRow[]): void {
  for (const row of rows) keepBase(row);
  refresh(rows);
}

/** Replace everything: the site rows of all sites, and all rows of the current one. */
export function replaceBase(rows: readonly BaseRow[]): void {
  base.clear();
  for (const row of rows) keepBase(row);
  batch(() => {
    siteRows.value = new Map();
    for (const type of ROW_TYPES) tables[type].value = new Map();
    refresh([...rows, ...keysOf(pending)]);
  });
}

export function baseRow(key: Key): BaseRow | undefined {
  return base.get(slot(key));
}

/** All base rows of the current site, the deleted ones too; with `rowsTurn` read beside it, a view follows them. */
export function baseRows(): Iterable<BaseRow> {
  return base.values();
}

/** The last fields of a row whether it is deleted or not: a base row's with the changes that wait. */
export function lastFields(row: BaseRow | undefined, ops: readonly Op[]): Record<string, unknown> {
  return Object.assign({}, row?.d, ...ops.map((op) => op.set ?? {})) as Record<string, unknown>;
}

export function pendingFor(key: Key): readonly WaitingOp[] {
  return pendingBy.get(slot(key)) ?? [];
}

/** Is some photo row, or any other op on these ids, still waiting to be sent? */
export function isWaiting(type: RowType, ids: readonly Id[]): boolean {
  return pending.some((op) => op.type === type && ids.includes(op.id));
}

/** The local number of a row that the server has not numbered yet, for words like "new 3"; null if it has none. */
export function localNumber(type: "defect" | "ticket", id: Id): number | null {
  void tables[type].value;
  const site = currentSite.value;
  if (!site) return null;
  const key = { site, type, id };
  return pendingFor(key).find((op) => op.label !== undefined)?.label ?? base.get(slot(key))?.label ?? null;
}
