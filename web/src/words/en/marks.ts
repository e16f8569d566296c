/** Words of the marks screens. */
export const marks = {
} as const;
