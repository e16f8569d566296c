/** The ledger as a table for others: one finish a line. Read back and set side by side by `makegood lasted`. */
import type { Followed } from "./follow";

export const COLUMNS = [
  "site", "building", "side", "faces_deg", "wall_material", "finish", "coats", "outer_mix", "cover_mm", "sample_panel", "laid_on", "came_off_on", "verdict",
  "looks", "days_sound", "days_let_go_by", "l_m2_sound", "l_m2_let_go_by",
] as const;
export type Line = Record<Exclude<(typeof COLUMNS)[number], "verdict" | "looks" | "days_sound" | "days_let_go_by" | "l_m2_sound" | "l_m2_let_go_by">, string | number | null> & {
  followed: Followed;
};

const rounded = (value: number | null | undefined): string => (value === null || value === undefined ? "" : String(Math.round(value * 100) / 100));

/** One cell: quoted where it must be, and never read as a formula by a spreadsheet. */
export function cell(value: string | number | null): string {
  if (value === null) return "";
  const text = typeof value === "number" ? String(value) : /^\s*[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

export function lastedCsv(lines: readonly Line[]): string {
  const rows = lines.map(({ followed, ...given }) => COLUMNS.map((column): string => {
    if (column === "verdict") return followed.verdict;
    if (column === "looks") return String(followed.looks);
    if (column === "days_sound") return rounded(followed.days?.left);
    if (column === "days_let_go_by") return rounded(followed.days?.right);
    if (column === "l_m2_sound") return rounded(followed.l_m2?.left);
    if (column === "l_m2_let_go_by") return rounded(followed.l_m2?.right);
    return cell(given[column]);
  }).join(","));
  return `${[COLUMNS.join(","), ...rows].join("\r\n")}\r\n`;
}
