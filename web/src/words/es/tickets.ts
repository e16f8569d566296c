/** Palabras de las pantallas (tickets). */
import type { tickets as english } from "../en/tickets";

export const tickets: Record<keyof typeof english, string> = {
};
