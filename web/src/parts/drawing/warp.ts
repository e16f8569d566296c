/** A photo of a wall pulled straight: each place of the drawing looks up its place in the photo. Done on this phone, a few rows at a time. */
import type { Box } from "../../model/drawing/plan";
import { invertHomography } from "../../model/rectify";

const PX_PER_M = 200;
const MOST_PX = 2048;
const ROWS_AT_ONCE = 48;

export type Pixels = { width: number; height: number; data: Uint8ClampedArray };

function load(url: string): Promise<HTMLImageElement> {
  return new Promise((resolve, reject) => {
    const image = new Image();
    image.onload = () => resolve(image);
    image.onerror = () => reject(new Error("picture not shown by this browser"));
    image.src = url;
  });
}

function sheet(width: number, height: number): [HTMLCanvasElement, CanvasRenderingContext2D] {
  const canvas = document.createElement("canvas");
  canvas.width = width;
  canvas.height = height;
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  if (!pen) throw new Error("no room for another picture in memory");
  return [canvas, pen];
}

function pixelsOf(image: HTMLImageElement, most_px: number): Pixels {
  const factor = Math.min(1, most_px / Math.max(image.naturalWidth, image.naturalHeight));
  const [width, height] = [Math.round(image.naturalWidth * factor), Math.round(image.naturalHeight * factor)];
  const [, pen] = sheet(width, height);
  // Else pixels are skipped in a large step down, and grains stand for the wall.
  pen.imageSmoothingQuality = "high";
  pen.drawImage(image, 0, 0, width, height);
  return pen.getImageData(0, 0, width, height);
}

/** The pixels of the picture at `url`, made smaller so that its longer side is at most `most_px`; rejects where it is not shown here. */
export async function pixelsAt(url: string, most_px: number): Promise<Pixels> {
  return pixelsOf(await load(url), most_px);
}

/** Four neighbours weighed by nearness. */
function sample(from: Pixels, x: number, y: number, to: Uint8ClampedArray, at: number): void {
  const [left, top] = [Math.floor(x), Math.floor(y)];
  if (left < 0 || top < 0 || left + 1 >= from.width || top + 1 >= from.height) return;
  const [fx, fy] = [x - left, y - top];
  const one = (top * from.width + left) * 4;
  const two = one + from.width * 4;
  for (let c = 0; c < 3; c += 1) {
    const upper = (from.data[one + c] as number) * (1 - fx) + (from.data[one + 4 + c] as number) * fx;
    const lower = (from.data[two + c] as number) * (1 - fx) + (from.data[two + 4 + c] as number) * fx;
    to[at + c] = upper * (1 - fy) + lower * fy;
  }
  to[at + 3] = 255;
}

type Job = { from: Pixels; photo_px_width: number; homography: readonly number[]; box: Box; px_per_m: number };

function drawRows(job: Job, out: ImageData, firstRow: number, lastRow: number): void {
  const back = invertHomography([...job.homography]) as readonly number[];
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, i = 1] = back;
  const [, , , , , , h6 = 0, h7 = 0, h8 = 1] = job.homography;
  const factor = job.from.width / job.photo_px_width;
  for (let row = firstRow; row < lastRow; row += 1) {
    const y = job.box.y1 - (row + 0.5) / job.px_per_m;
    for (let column = 0; column < out.width; column += 1) {
      const x = job.box.x0 + (column + 0.5) / job.px_per_m;
      const w = g * x + h * y + i;
      const [u, v] = [(a * x + b * y + c) / w, (d * x + e * y + f) / w];
      // Beyond the horizon of the photo the formula would show it upside down.
      if (h6 * u + h7 * v + h8 > 0) sample(job.from, u * factor - 0.5, v * factor - 0.5, out.data, (row * out.width + column) * 4);
    }
  }
}

/**
 * The address of a picture of `box` (wall metres) made from the photo at `url`; `photo_px_width` is the width of the photo the
 * homography was set on, null if it is the one at `url`. Null when `stopped` says so on the way.
 */
export async function pullStraight(url: string, photo_px_width: number | null, homography: readonly number[], box: Box, stopped: () => boolean): Promise<string | null> {
  const image = await load(url);
  const from = pixelsOf(image, MOST_PX);
  const px_per_m = Math.min(PX_PER_M, MOST_PX / Math.max(box.x1 - box.x0, box.y1 - box.y0));
  const [canvas, pen] = sheet(Math.max(1, Math.round((box.x1 - box.x0) * px_per_m)), Math.max(1, Math.round((box.y1 - box.y0) * px_per_m)));
  const out = pen.createImageData(canvas.width, canvas.height);
  const job = { from, photo_px_width: photo_px_width ?? image.naturalWidth, homography, box, px_per_m };
  for (let row = 0; row < canvas.height; row += ROWS_AT_ONCE) {
    drawRows(job, out, row, Math.min(canvas.height, row + ROWS_AT_ONCE));
    await new Promise((resolve) => setTimeout(resolve));
    if (stopped()) return null;
  }
  pen.putImageData(out, 0, 0);
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
  return blob ? URL.createObjectURL(blob) : null;
}
