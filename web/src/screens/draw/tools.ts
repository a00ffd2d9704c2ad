import type { Tool } from "./board";

export interface ToolWords {
  readonly tool: Tool;
  readonly name: string;
  readonly how: string;
}

/** What can be drawn, in the order a lake is made. */
export const TOOLS: readonly ToolWords[] = [
  {
    tool: "choose",
    name: "Choose",
    how: "Pick an area on the map or in the list to name it, change its rule or delete it.",
  },
  {
    tool: "outline",
    name: "Outline",
    how: "Draw the whole shore: click each corner, then keep it. It takes the place of the one before.",
  },
  {
    tool: "island",
    name: "Island",
    how: "Draw its shore within the lake: click each corner, then keep it.",
  },
  {
    tool: "contour",
    name: "Contour",
    how: "Trace a line of one depth: click along it, then keep it. End where it began when it closes.",
  },
  {
    tool: "zone",
    name: "Zone",
    how: "Click each corner, then keep it. Corners near a shore or another zone snap to it.",
  },
  {
    tool: "sub-area",
    name: "Sub-area",
    how: "Draw a part of a zone: click each corner, then keep it.",
  },
  {
    tool: "split",
    name: "Split",
    how: "Choose an area, then draw a line right across it and keep it. The edge between the parts stays shared.",
  },
  {
    tool: "corner",
    name: "Move a corner",
    how: "Drag a corner, or an edge to put a new one in. Every area that shares it follows.",
  },
  {
    tool: "place",
    name: "Place",
    how: "Click where a launch, a landmark or a hazard is.",
  },
];

export const isArea = (tool: Tool): boolean => tool === "zone" || tool === "sub-area";
export const isClosed = (tool: Tool): boolean =>
  isArea(tool) || tool === "outline" || tool === "island";

/** What is wrong between areas, in words. */
export const FLAG_WORDS: Record<string, string> = {
  overlap: "lie on each other over",
  gap: "leave a gap between them of",
  "out-of-lake": "reaches out of the lake by",
};
