/** Words of the tickets screens. */
export const tickets = {
} as const;
