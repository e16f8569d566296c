/** Fingers, mouse and wheel on the frame of a drawing, told apart: a tap, a drag, a pinch, a free line. */
import { AT_REST, type Hold, enlarge, followedBy } from "../../model/drawing/lens";

type Place = { x: number; y: number };
export type Hands = {
  /** Does one finger dragging draw (or move a corner it started on) instead of moving the wall? */
  draws: (from: Place) => boolean;
  onTap: (at: Place, target: EventTarget | null) => void;
  onDoubleTap: (at: Place) => void;
  /** Where the drawing finger has been so far; `done` when it was lifted, "lost" when a second finger came or the browser took over. */
  onFree: (path: readonly Place[], end: "going" | "done" | "lost") => void;
  /** The move of the layer while it lasts, and once it is over. */
  onHold: (hold: Hold, over: boolean) => void;
  /** Whether the wheel may still enlarge or reduce; where not, the page scrolls. */
  wheelTurns: (larger: boolean) => boolean;
};

const SLIP_PX = 7;
const DOUBLE_MS = 320;
const WHEEL_REST_MS = 140;

class Gesture {
  private fingers = new Map<number, Place>();
  private from: Place = { x: 0, y: 0 };
  private doing: "nothing" | "tap" | "pan" | "pinch" | "draw" = "nothing";
  private path: Place[] = [];
  private hold: Hold = AT_REST;
  private pair: { middle: Place; apart: number } = { middle: { x: 0, y: 0 }, apart: 1 };
  private tapped = { at: 0, x: 0, y: 0 };
  private wheelTimer = 0;

  constructor(private readonly frame: HTMLElement, private readonly hands: () => Hands) {}

  private place(event: MouseEvent): Place {
    const edge = this.frame.getBoundingClientRect();
    return { x: event.clientX - edge.left, y: event.clientY - edge.top };
  }

  private two(): { middle: Place; apart: number } {
    const [a = this.from, b = this.from] = [...this.fingers.values()];
    return { middle: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, apart: Math.max(1, Math.hypot(a.x - b.x, a.y - b.y)) };
  }

  down = (event: PointerEvent) => {
    if (event.button > 0 || (event.target as Element).closest("button, input, label")) return;
    this.endWheel();
    this.fingers.set(event.pointerId, this.place(event));
    if (this.fingers.size === 1) {
      this.from = this.place(event);
      this.doing = "tap";
    } else if (this.fingers.size === 2) {
      if (this.doing === "draw") this.hands().onFree(this.path, "lost");
      this.doing = "pinch";
      this.pair = this.two();
    }
  };

  move = (event: PointerEvent) => {
    if (!this.fingers.has(event.pointerId)) return;
    const now = this.place(event);
    this.fingers.set(event.pointerId, now);
    if (this.doing === "tap" && Math.hypot(now.x - this.from.x, now.y - this.from.y) > SLIP_PX) this.begin(event);
    if (this.doing === "draw") {
      this.path.push(now);
      this.hands().onFree(this.path, "going");
    } else if (this.doing === "pan") {
      this.holdAt({ x_px: now.x - this.from.x, y_px: now.y - this.from.y, scale: 1 });
    } else if (this.doing === "pinch") {
      const { middle, apart } = this.two();
      const scale = apart / this.pair.apart;
      this.holdAt({ x_px: middle.x - scale * this.pair.middle.x, y_px: middle.y - scale * this.pair.middle.y, scale });
    }
  };

  private begin(event: PointerEvent) {
    this.doing = this.hands().draws(this.from) ? "draw" : "pan";
    this.path = [this.from];
    this.frame.setPointerCapture(event.pointerId);
  }

  private holdAt(hold: Hold) {
    this.hold = hold;
    this.hands().onHold(hold, false);
  }

  up = (event: PointerEvent) => this.lift(event, true);
  cancel = (event: PointerEvent) => this.lift(event, false);

  private lift(event: PointerEvent, meant: boolean) {
    if (!this.fingers.delete(event.pointerId)) return;
    const did = this.doing;
    this.doing = "nothing";
    if (did === "tap" && meant) this.tap(this.place(event), event);
    else if (did === "draw") this.hands().onFree(this.path, meant ? "done" : "lost");
    else if (did === "pan" || did === "pinch") this.settle();
  }

  private tap(at: Place, event: PointerEvent) {
    const again = event.timeStamp - this.tapped.at < DOUBLE_MS && Math.hypot(at.x - this.tapped.x, at.y - this.tapped.y) < 30;
    this.tapped = again ? { at: 0, x: 0, y: 0 } : { at: event.timeStamp, ...at };
    if (again) this.hands().onDoubleTap(at);
    else this.hands().onTap(at, event.target);
  }

  private settle() {
    const hold = this.hold;
    this.hold = AT_REST;
    this.hands().onHold(hold, true);
  }

  wheel = (event: WheelEvent) => {
    if (!this.wheelTimer && !this.hands().wheelTurns(event.deltaY < 0)) return;
    event.preventDefault();
    const { x, y } = this.place(event);
    this.holdAt(followedBy(this.hold, enlarge(Math.exp(-Math.max(-80, Math.min(80, event.deltaY)) / 240), x, y)));
    clearTimeout(this.wheelTimer);
    this.wheelTimer = window.setTimeout(() => this.endWheel(), WHEEL_REST_MS);
  };

  private endWheel() {
    if (!this.wheelTimer) return;
    clearTimeout(this.wheelTimer);
    this.wheelTimer = 0;
    this.settle();
  }
}

/** Listen on the frame; the returned function stops listening. */
export function listen(frame: HTMLElement, hands: () => Hands): () => void {
  const gesture = new Gesture(frame, hands);
  const stop = new AbortController();
  const { signal } = stop;
  frame.addEventListener("pointerdown", gesture.down, { signal });
  frame.addEventListener("pointermove", gesture.move, { signal });
  frame.addEventListener("pointerup", gesture.up, { signal });
  frame.addEventListener("pointercancel", gesture.cancel, { signal });
  frame.addEventListener("wheel", gesture.wheel, { signal, passive: false });
  return () => stop.abort();
}
