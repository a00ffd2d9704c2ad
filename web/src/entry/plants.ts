// What the lake's list says of a plant, as the program keeps it and as a person reads it.

/** Origins, the one not settled first. */
export const ORIGINS = [
  ["unknown", "not known"],
  ["native", "native here"],
  ["introduced", "introduced"],
] as const;

/** How it grows, the one not known first. */
export const GROWTH_FORMS = [
  ["unknown", "not known"],
  ["submersed", "under the surface"],
  ["floating-leaf", "rooted, leaves floating"],
  ["free-floating", "loose on the surface"],
  ["emergent", "standing out of the water"],
  ["macroalga", "a large alga like a plant"],
  ["moss", "a moss or liverwort"],
  ["filamentous-alga", "threads of algae, rated apart"],
] as const;

/** How finely it is named. */
export const RANKS = [
  ["species", "the species"],
  ["genus", "the genus alone"],
  ["hybrid", "a hybrid"],
  ["aggregate", "several species under one name"],
] as const;
