/** True when the reader asked the system for less motion. */
export const lessMotion = (): boolean => matchMedia("(prefers-reduced-motion: reduce)").matches;
