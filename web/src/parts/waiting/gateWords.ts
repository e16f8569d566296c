/** The sentences of the gate: each reason by its code. */
import type { Reason, Today } from "../../model/waiting/gate";
import { type WordKey, t } from "../../words";
import { showDegrees } from "./degrees";

const LIMITS_C = { too_cold: 5, rising: 3, cool_for_lime: 8, hot_for_lime: 30 } as const;

export function reasonWords(reason: Reason, today: Today): string {
  const { code, n = 0 } = reason;
  if (code === "too_cold") {
    return today.trend === "rising" ? t("gate_too_cold_rising", { low: showDegrees(LIMITS_C.rising) }) : t("gate_too_cold", { limit: showDegrees(LIMITS_C.too_cold) });
  }
  if (code === "cool_for_lime" || code === "hot_for_lime") return t(`gate_${code}`, { limit: showDegrees(LIMITS_C[code]) });
  if (code === "frozen") return t("gate_frozen_say");
  const covered: Partial<Record<typeof code, WordKey>> = { frost_ahead: "gate_frost_ahead_covered", rain_due: "gate_rain_due_covered" };
  const key = (today.covered && covered[code]) || (`gate_${code}` as const);
  return t(key, { n });
}
