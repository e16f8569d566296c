/**
 * Where failures must lie that were only seen between two visits, and how many in each place.
 * A port of interval_curve in server/makegood/science/endurance.py, held by shared/vectors/turnbull.json; sources there.
 */
import { Refusal } from "../refusal";
import type { Span } from "./follow";

export const FEWEST_FOLLOWED = 10;
export const FEWEST_FAILED = 5;

export type IntervalCurve = {
  /** The end is Infinity where what is left was never seen to fail. */
  support: [number, number][];
  mass: number[]; followed: number; failed: number; too_few: boolean; gap: number; converged: boolean;
};
type End = readonly [at: number, order: 0 | 1 | 2];
/** A closed left end comes before a right one at the same place; an open left end comes after it. */
const [LEFT, RIGHT, AFTER] = [0, 1, 2] as const;
const GAP = 1e-10;
const MOST_ROUNDS = 5000;
const MOST_HALVINGS = 20;

export const tooFew = (followed: number, failed: number): boolean => followed < FEWEST_FOLLOWED || failed < FEWEST_FAILED;
const order = (a: End, b: End): number => (a[0] < b[0] ? -1 : a[0] > b[0] ? 1 : a[1] - b[1]);

/** How many of `sorted` lie before `end` (or at it too, with `also`). */
function countBefore(sorted: readonly End[], end: End, also: boolean): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const mid = (low + high) >> 1;
    const side = order(sorted[mid] as End, end);
    if (side < 0 || (also && side === 0)) low = mid + 1;
    else high = mid;
  }
  return low;
}

function check(closed: readonly (readonly [number, number])[], counts: readonly number[]): void {
  if (!closed.length) throw new Refusal("no_durations", { intervals: "empty" });
  if (closed.length !== counts.length) throw new Refusal("lengths_differ", { weights: "count" });
  if (!closed.every(([left, right]) => Number.isFinite(left) && left <= right)) throw new Refusal("interval_refused", { intervals: "order" });
  if (!counts.every((count) => Number.isFinite(count) && count > 0)) throw new Refusal("weight_refused", { weights: "zero or below" });
}

/** soundAtLeft: still sound at `left` itself, as on visits, so (left, right]; otherwise closed. Refusals as in Python. */
export function intervalCurve(intervals: readonly Span[], weights: readonly number[] | null = null, soundAtLeft = false): IntervalCurve {
  const closed = intervals.map(({ left, right }) => [left, right ?? Infinity] as const);
  const counts = weights ?? closed.map(() => 1);
  check(closed, counts);
  const ends = closed.map(([left, right]): [End, End] => [[left, soundAtLeft && left < right ? AFTER : LEFT], [right, RIGHT]]);
  const support = supportOf(ends);
  const [lefts, rights] = [support.map((one) => one[0]), support.map((one) => one[1])];
  const spans = ends.map(([left, right]): [number, number] => [countBefore(lefts, left, false), countBefore(rights, right, true)]);
  const followed = counts.reduce((a, b) => a + b, 0);
  const { mass, gap } = mostLikely({ spans, shares: counts.map((count) => count / followed), supports: support.length });
  const failed = closed.reduce((all, [, right], i) => all + (right < Infinity ? (counts[i] ?? 0) : 0), 0);
  return { support: support.map(([a, b]) => [a[0], b[0]]), mass, followed, failed, too_few: tooFew(followed, failed), gap, converged: gap <= GAP };
}

/** Each left end that is followed by a right end with no other end between, in rising order. */
function supportOf(ends: readonly (readonly [End, End])[]): [End, End][] {
  const all = ends.flat().sort(order).filter((end, i, list) => i === 0 || order(end, list[i - 1] as End) !== 0);
  return all.slice(0, -1).map((end, i): [End, End] => [end, all[i + 1] as End]).filter(([a, b]) => a[1] !== RIGHT && b[1] === RIGHT);
}

/** For each interval the supports [begin, end) it covers and its share of weight. */
type Seen = { spans: [number, number][]; shares: number[]; supports: number };

function running(values: readonly number[]): number[] {
  let sum = 0;
  return values.map((value) => (sum += value));
}

function within(seen: Seen, mass: readonly number[]): number[] {
  const sums = [0, ...running(mass)];
  return seen.spans.map(([begin, end]) => (sums[end] ?? 0) - (sums[begin] ?? 0));
}

function likelihood(seen: Seen, mass: readonly number[]): number {
  const chances = within(seen, mass);
  if (Math.min(...chances) <= 0) return -Infinity;
  return chances.reduce((all, chance, i) => all + (seen.shares[i] ?? 0) * Math.log(chance), 0);
}

const add = (list: number[], place: number, value: number): void => {
  list[place] = (list[place] ?? 0) + value;
};

/** How much the likelihood gains by mass on each support; at the best no more than 1. */
function pullOf(seen: Seen, mass: readonly number[]): number[] {
  const change = new Array<number>(seen.supports + 1).fill(0);
  const chances = within(seen, mass);
  seen.spans.forEach(([begin, end], i) => {
    const by = (seen.shares[i] ?? 0) / (chances[i] ?? 1);
    add(change, begin, by);
    add(change, end, -by);
  });
  return running(change.slice(0, -1));
}

function mostLikely(seen: Seen): { mass: number[]; gap: number } {
  let mass = new Array<number>(seen.supports).fill(1 / seen.supports);
  let [best, bestGap] = [mass, Infinity];
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const pull = pullOf(seen, mass);
    const gap = Math.max(...pull) - 1;
    if (gap < bestGap) [best, bestGap] = [mass, gap];
    if (gap <= GAP) break;
    const stepped = mass.map((m, i) => m * (pull[i] ?? 0));
    mass = toward(seen, stepped, minorant(seen, stepped));
  }
  return { mass: best, gap: Math.max(bestGap, 0) };
}

/** The masses that maximise a quadratic with the likelihood's slope and curvature by bound. */
function minorant(seen: Seen, mass: readonly number[]): number[] {
  const slope = new Array<number>(seen.supports + 1).fill(0);
  const curve = [...slope];
  const chances = within(seen, mass);
  seen.spans.forEach(([begin, end], i) => {
    const [share, chance] = [seen.shares[i] ?? 0, chances[i] ?? 1];
    add(slope, end, share / chance);
    add(slope, begin, -share / chance);
    for (const bound of [begin, end]) add(curve, bound, share / chance ** 2);
  });
  const failedBy = running(mass);
  const inside = Array.from({ length: Math.max(0, seen.supports - 1) }, (_, i) => i + 1);
  const aims = inside.map((j) => (failedBy[j - 1] ?? 0) + (slope[j] ?? 0) / (curve[j] ?? 1));
  const rising = isotonic(aims, inside.map((j) => curve[j] ?? 1)).map((level) => Math.min(1, Math.max(0, level)));
  const levels = [0, ...rising, 1];
  return levels.slice(1).map((after, i) => after - (levels[i] ?? 0));
}

/** The never falling sequence nearest to the aims in weighted squares, by pooling neighbours. */
function isotonic(aims: readonly number[], weights: readonly number[]): number[] {
  const pools: { level: number; weight: number; length: number }[] = [];
  aims.forEach((aim, i) => {
    let pool = { level: aim, weight: weights[i] ?? 1, length: 1 };
    for (let before = pools.at(-1); before && before.level > pool.level; before = pools.at(-1)) {
      pools.pop();
      const weight = before.weight + pool.weight;
      pool = { level: (before.level * before.weight + pool.level * pool.weight) / weight, weight, length: before.length + pool.length };
    }
    pools.push(pool);
  });
  return pools.flatMap(({ level, length }) => new Array<number>(length).fill(level));
}

function toward(seen: Seen, mass: readonly number[], aim: readonly number[]): number[] {
  const floor = likelihood(seen, mass);
  for (let part = 1, n = 0; n < MOST_HALVINGS; n += 1, part /= 2) {
    const tried = mass.map((m, i) => m + part * ((aim[i] ?? 0) - m));
    if (likelihood(seen, tried) >= floor) return tried;
  }
  return [...mass];
}
