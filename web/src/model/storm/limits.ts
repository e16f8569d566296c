/** What can be kept of a storm or a survey: the bounds of its figures, and of its day. */

/** The limits the server holds numbers of a storm to, [lowest, highest]; held to shared/records.json by limits.test.ts. */
export const STORM_LIMITS = {
  duration_h: [0, 400], rain_mm: [0, 2000], rain_1h_mm: [0, 500], rain_24h_mm: [0, 2000], wind_m_s: [0, 120], gust_m_s: [0, 150],
} as const;
export type StormNumber = keyof typeof STORM_LIMITS;

/** Whether a number of a storm lies outside what can be kept; nothing entered is fine. */
export function outOfLimits(field: StormNumber, value: number | null): boolean {
  const [lowest, highest] = STORM_LIMITS[field];
  return value !== null && !(value >= lowest && value <= highest);
}

/** The day of an instant where the phone is, as YYYY-MM-DD. */
export function dayOf(iso: string): string {
  const at = new Date(iso);
  return [at.getFullYear(), at.getMonth() + 1, at.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
}

/** Whether a day lies where the server takes it: from 1900 to tomorrow. */
export function dayAllowed(day: string, now: string): boolean {
  const tomorrow = dayOf(new Date(Date.parse(now) + 86_400_000).toISOString());
  return /^\d{4}-\d{2}-\d{2}$/.test(day) && day >= "1900-01-01" && day <= tomorrow;
}
