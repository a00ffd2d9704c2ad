/** A point found both on the picture and on the ground, as typed. */
export interface Pin {
  name: string;
  x: string;
  y: string;
  latitude: string;
  longitude: string;
}

/** How pixels become places, and from how many points. */
export const WARPS = [
  { key: "affine", name: "flat", least: 3 },
  { key: "projective", name: "a photo at an angle", least: 4 },
  { key: "thin-plate", name: "warped paper", least: 6 },
] as const;

export const leastFor = (key: string): number => WARPS.find((one) => one.key === key)?.least ?? 3;

const cell = (text: string): string => `"${text.trim().replaceAll('"', '""')}"`;

/** The points as a table; a point without a name goes by its number among all. */
export function csv(points: readonly Pin[], all: readonly Pin[]): string {
  const lines = points.map((pin) =>
    [pin.name || String(all.indexOf(pin) + 1), pin.x, pin.y, pin.longitude, pin.latitude]
      .map(cell)
      .join(","),
  );
  return ["name,pixel_x,pixel_y,longitude,latitude", ...lines].join("\n");
}

/** What the program says of the points, without the words of the command line. */
export function scanWords(text: string): string {
  const named = text.replace(/`control points`(:|,)? ?/g, "").replaceAll("\n", "; ");
  return named
    .replace(/with `--warp ([a-z-]+)`/, (_, key: string) => {
      const warp = WARPS.find((one) => one.key === key);
      return `as ${warp?.name ?? key}`;
    })
    .replaceAll("`", "")
    .replace(/[.;\s]+$/, "");
}

/** Which of the points sent the program names as the one that does not fit; -1 when none. */
export const misfit = (message: string): number =>
  Number(/control point (\d+) `[^`]*` does not fit/.exec(message)?.[1] ?? 0) - 1;

/** A remark that the row of the point makes itself. */
export const isRowsOwn = (remark: string): boolean =>
  remark.startsWith("the point that fits the others least");

/** A picture as an address that holds all of it. */
export const writtenOut = (picture: Blob): Promise<string> =>
  new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result));
    reader.onerror = () => reject(new Error("the picture could not be read"));
    reader.readAsDataURL(picture);
  });
