/** Hatching 6 px apart at 45° (rising) or −45° (falling), as a canvas pattern. */
export function hatch(
  colour: string,
  direction: "rising" | "falling",
  pixelRatio: number,
  width = 0.9,
): CanvasPattern | string {
  const side = Math.max(1, Math.round(6 * Math.SQRT2 * pixelRatio));
  const canvas = document.createElement("canvas");
  canvas.width = side;
  canvas.height = side;
  const pen = canvas.getContext("2d");
  if (!pen) return "transparent";
  pen.strokeStyle = colour;
  pen.lineWidth = width * pixelRatio;
  pen.beginPath();
  for (const shift of [-side, 0, side]) {
    pen.moveTo(shift, direction === "rising" ? side : 0);
    pen.lineTo(shift + side, direction === "rising" ? 0 : side);
  }
  pen.stroke();
  return pen.createPattern(canvas, "repeat") ?? "transparent";
}
