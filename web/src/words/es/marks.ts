/** Palabras de las pantallas (marks). */
import type { marks as english } from "../en/marks";

export const marks: Record<keyof typeof english, string> = {
};
