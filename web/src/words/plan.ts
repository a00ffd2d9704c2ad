/** The steps of a plan, in their order. */
export const STEPS = [
  { key: "number", name: "how many", question: "How many throws are enough?" },
  { key: "sites", name: "where", question: "Where do they go?" },
  { key: "day", name: "the day", question: "Does the day fit?" },
] as const;
export type StepKey = (typeof STEPS)[number]["key"];

export const isStep = (word: string | null): word is StepKey =>
  STEPS.some((step) => step.key === word);

/** North-east of here, and how far: for a site that was moved. */
export function direction(east: number, north: number): string {
  const names = [
    "north",
    "north-east",
    "east",
    "south-east",
    "south",
    "south-west",
    "west",
    "north-west",
  ];
  const turn = (Math.atan2(east, north) / (2 * Math.PI)) * 8;
  return names[((Math.round(turn) % 8) + 8) % 8] ?? "north";
}
