import type { Place } from "../state/route.svelte";

/** The questions of Findings, in the order a reader asks them. */
export const QUESTIONS: readonly { readonly place: Place; readonly question: string }[] = [
  { place: "findings", question: "What lives here?" },
  { place: "compare", question: "What changed?" },
  { place: "efficacy", question: "Did it work?" },
  { place: "trend", question: "Which way is it going?" },
  { place: "spread", question: "Where did it move?" },
  { place: "methods", question: "How is it computed?" },
];
