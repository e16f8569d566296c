/** The small drawing before what was found: a kind's own, else a sign for its group. */
import { KindDrawing } from "../../parts/drawing/KindDrawing";

const SIGNS: Record<string, string> = {
  structure: "M5 40V22L24 8l19 14v18zM19 40V28h10v12", elevation: "M5 12h38v28H5zM12 20h8v8h-8zM29 22h8v18", ticket: "M8 6h32v36H8zM15 16h18M15 24h18M15 32h10",
  storm: "M12 26a8 8 0 0 1 1-16 11 11 0 0 1 21 3 7 7 0 0 1 1 13zM14 32l-3 8M24 32l-3 8M34 32l-3 8", survey: "M12 8h24v34H12zM18 5h12v6H18zM18 20l3 3 6-6M18 32l3 3 6-6",
  finish: "M6 14h36v8H6zM6 22h36v8H6zM6 30h36v8H6z", mix: "M8 16h32l-4 24H12zM6 16h36M18 8l6 8M30 6l-4 10", handout: "M8 12h24v30H8zM16 6h24v30H32M14 20h12M14 28h12",
  person: "M24 6a8 8 0 1 1 0 16 8 8 0 0 1 0-16zM8 42c2-14 30-14 32 0", note: "M8 8h32v24H22l-8 8v-8H8zM15 16h18M15 24h12", photo: "M6 14h9l4-6h10l4 6h9v26H6zM24 19a8 8 0 1 1 0 16 8 8 0 0 1 0-16z",
  defect: "M24 4C14 4 9 11 9 19c0 9 9 17 15 25 6-8 15-16 15-25 0-8-5-15-15-15z", reading: "M6 34h36M10 34V22M18 34V28M26 34V18M34 34V24", score: "M6 34h36M10 34V22M18 34V28M26 34V18M34 34V24",
};

export function GroupDrawing({ group, kind }: { group: string; kind: string | null }) {
  if (kind) return <KindDrawing kind={kind} />;
  return (
    <svg viewBox="0 0 48 48" class="find-sign" aria-hidden="true">
      <path d={SIGNS[group] ?? SIGNS.note} fill="none" stroke="currentColor" stroke-width="2.5" stroke-linejoin="round" />
    </svg>
  );
}
