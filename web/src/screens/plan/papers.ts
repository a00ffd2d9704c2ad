/** Papers a survey takes along: the word in the address, the name, what it is. */
export const PAPERS = [
  ["sheets", "Field sheets", "in the order of the route, a set a boat"],
  ["map", "Site map", "the route and the numbers"],
] as const;

/** Address of a print, planned as the page has it. */
export const printAddress = (survey: string, kind: string, query: URLSearchParams): string => {
  const words = query.toString();
  return `/api/surveys/${encodeURIComponent(survey)}/print/${kind}${words && `?${words}`}`;
};
