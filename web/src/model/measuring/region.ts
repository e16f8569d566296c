/** Regions of a small picture: a threshold between two kinds of pixels, what hangs together, holes, and the line round it. */
import type { XY } from "../surface";

/** 1 inside, 0 outside, row by row. */
export type Mask = { width: number; height: number; on: Uint8Array };

const BINS = 256;

/** The value that parts the numbers into two kinds with the least spread within each (Otsu 1979; 256 steps). */
export function otsu(values: ArrayLike<number>, upTo = Infinity): number {
  let most = 0, count = 0;
  for (let i = 0; i < values.length; i++) if (values[i]! < upTo) most = Math.max(most, values[i]!);
  if (most === 0) return 0;
  const bins = new Float64Array(BINS);
  for (let i = 0; i < values.length; i++) {
    if (values[i]! >= upTo) continue;
    bins[Math.min(BINS - 1, Math.floor((values[i]! / most) * BINS))]! += 1;
    count += 1;
  }
  const total = bins.reduce((sum, n, k) => sum + n * k, 0);
  let [below, belowSum, best, at] = [0, 0, -1, 0];
  bins.forEach((n, k) => {
    below += n;
    belowSum += n * k;
    if (below === 0 || below === count) return;
    const between = below * (count - below) * (belowSum / below - (total - belowSum) / (count - below)) ** 2;
    if (between > best) [best, at] = [between, k];
  });
  return ((at + 1) / BINS) * most;
}

/** Each pixel as most of the nine round it are; takes out grains and thin bridges. */
export function smoothed({ width, height, on }: Mask): Mask {
  const next = new Uint8Array(on.length);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let [inside, all] = [0, 0];
      for (let row = Math.max(0, y - 1); row <= Math.min(height - 1, y + 1); row++) {
        for (let column = Math.max(0, x - 1); column <= Math.min(width - 1, x + 1); column++) {
          inside += on[row * width + column]!;
          all += 1;
        }
      }
      next[y * width + x] = 2 * inside > all ? 1 : 0;
    }
  }
  return { width, height, on: next };
}

/** What hangs together with the seeds side by side, among pixels of the given kind. */
function spread({ width, height, on }: Mask, seeds: readonly number[], kind: 0 | 1): Uint8Array {
  const reached = new Uint8Array(on.length);
  const waiting = seeds.filter((i) => on[i] === kind);
  for (const i of waiting) reached[i] = 1;
  for (let i = waiting.pop(); i !== undefined; i = waiting.pop()) {
    const x = i % width, y = Math.floor(i / width);
    const sides = [x > 0 ? i - 1 : -1, x < width - 1 ? i + 1 : -1, y > 0 ? i - width : -1, y < height - 1 ? i + width : -1];
    for (const next of sides) {
      if (next < 0 || reached[next] || on[next] !== kind) continue;
      reached[next] = 1;
      waiting.push(next);
    }
  }
  return reached;
}

/** The piece that holds a pixel, or the nearest piece within `reach` pixels of it; null where there is none. */
export function pieceAt(mask: Mask, [x, y]: readonly [number, number], reach: number): Mask | null {
  let [best, seed] = [Infinity, -1];
  for (let row = Math.max(0, y - reach); row <= Math.min(mask.height - 1, y + reach); row++) {
    for (let column = Math.max(0, x - reach); column <= Math.min(mask.width - 1, x + reach); column++) {
      const off = Math.hypot(column - x, row - y);
      if (mask.on[row * mask.width + column] && off < best) [best, seed] = [off, row * mask.width + column];
    }
  }
  return seed < 0 ? null : { ...mask, on: spread(mask, [seed], 1) };
}

/** The piece with what it encloses. */
export function filled(mask: Mask): Mask {
  const { width, height, on } = mask;
  const rim = Array.from({ length: width }, (_, x) => [x, (height - 1) * width + x]).concat(Array.from({ length: height }, (_, y) => [y * width, y * width + width - 1]));
  const outside = spread(mask, rim.flat(), 0);
  return { width, height, on: on.map((_, i) => 1 - outside[i]!) };
}

export const sizeOfMask = ({ on }: Mask): number => on.reduce((sum, one) => sum + one, 0);

/** How many of the picture's four edges the piece reaches. */
export function edgesTouched({ width, height, on }: Mask): number {
  const any = (length: number, at: (k: number) => number) => Array.from({ length }, (_, k) => on[at(k)]).some((one) => one === 1);
  return [any(width, (x) => x), any(width, (x) => (height - 1) * width + x), any(height, (y) => y * width), any(height, (y) => y * width + width - 1)].filter(Boolean).length;
}

/** Pixels of the piece near its line, and pixels outside near it; `reach` pixels to each side. */
export function bandsOf({ width, height, on }: Mask, reach: number): { inner: Uint8Array; outer: Uint8Array } {
  const [inner, outer] = [new Uint8Array(on.length), new Uint8Array(on.length)];
  for (let i = 0; i < on.length; i++) {
    const x = i % width, y = Math.floor(i / width);
    let other = false;
    for (let row = Math.max(0, y - reach); row <= Math.min(height - 1, y + reach) && !other; row++) {
      for (let column = Math.max(0, x - reach); column <= Math.min(width - 1, x + reach) && !other; column++) other = on[row * width + column] !== on[i];
    }
    if (other) (on[i] ? inner : outer)[i] = 1;
  }
  return { inner, outer };
}

/** Right, down, left, up: the piece is kept on the right hand. */
const WAYS = [[1, 0], [0, 1], [-1, 0], [0, -1]] as const;

/**
 * The line round a piece, through the middles of the pixel edges between inside and outside, in pixels from the upper left corner
 * of the picture. It never touches itself, also where two pixels meet at a corner only.
 */
export function lineRound({ width, height, on }: Mask): XY[] {
  const inside = (x: number, y: number) => x >= 0 && y >= 0 && x < width && y < height && on[y * width + x] === 1;
  const first = on.indexOf(1);
  if (first < 0) return [];
  const start = { x: first % width, y: Math.floor(first / width) };
  const line: XY[] = [];
  let { x, y } = start, way = 0;
  do {
    const [dx, dy] = WAYS[way]!;
    line.push([x + dx / 2, y + dy / 2]);
    [x, y] = [x + dx, y + dy];
    // The pixels ahead on the left and on the right of the corner just reached.
    const [rx, ry] = [x + (dx - dy - 1) / 2, y + (dy + dx - 1) / 2], [lx, ly] = [x + (dx + dy - 1) / 2, y + (dy - dx - 1) / 2];
    if (!inside(rx, ry)) way = (way + 1) % 4;
    else if (inside(lx, ly)) way = (way + 3) % 4;
  } while (x !== start.x || y !== start.y || way !== 0);
  return line;
}
