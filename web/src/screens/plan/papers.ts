import { inBook } from "../../state/base";
import { choice, figure, type Part } from "../../words/blanks";

/** Papers a survey takes along: the word in the address, the name, what it is. */
export const PAPERS = [
  ["packet", "All papers in one file", "with contents and page numbers"],
  ["sheets", "Field sheets", "in the order of the route kept, a set a boat"],
  ["map-pages", "A map for each sheet", "the sheet's own sites, large"],
  ["map", "Site map", "all sites on one page"],
  ["depth-map", "Depth map", "contours and landmarks"],
  ["kit", "Kit list", "what to load"],
  ["safety", "Safety page", "float plan, cautions, hygiene"],
  ["plant-cards", "Plant cards", "this lake's kinds, with their marks"],
  ["voucher-labels", "Voucher labels", "for bags and specimens"],
  ["residents-card", "Card for residents", "one page to hand out"],
] as const;

/** How the papers look, in a sentence of changeable words. */
export const LOOK: readonly Part[] = [
  "On ",
  choice("paper", "Paper", "letter", [
    ["letter", "letter paper"],
    ["a4", "A4"],
  ]),
  ", in ",
  choice("ink", "Ink", "colour", [
    ["colour", "colour"],
    ["black", "black ink only"],
  ]),
  ", ",
  choice("type", "Size of the type", "usual", [
    ["usual", "usual type"],
    ["large", "large type"],
  ]),
  ", with ",
  figure("blank", "Blank spare sheets", 0, { min: 0, max: 20, width: 2 }),
  " blank spare sheets.",
];

/** The same as the words of an address. */
export function lookQuery(said: Record<string, string>): URLSearchParams {
  const query = new URLSearchParams();
  if (said.paper === "a4") query.set("paper", "a4");
  if (said.ink === "black") query.set("black_and_white", "true");
  if (said.type === "large") query.set("large", "true");
  if (Number(said.blank) > 0) query.set("spares", String(Math.round(Number(said.blank))));
  return query;
}

/** Address of a print. */
export const printAddress = (survey: string, kind: string, query: URLSearchParams): string => {
  const words = query.toString();
  return inBook(`/api/surveys/${encodeURIComponent(survey)}/print/${kind}${words && `?${words}`}`);
};

/** Address of all papers and files for GPS units in one archive. */
export const packetAddress = (survey: string, query: URLSearchParams): string => {
  const words = query.toString();
  return inBook(`/api/surveys/${encodeURIComponent(survey)}/packet${words && `?${words}`}`);
};
