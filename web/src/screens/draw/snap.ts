import Interaction from "ol/interaction/Interaction";
import type MapBrowserEvent from "ol/MapBrowserEvent";
import type { Place } from "./board";

/** A closed ring and what it is the edge of. */
export interface Ring {
  readonly of: string;
  readonly places: readonly Place[];
}

/** Where a place comes to lie that was drawn near something. */
export interface Snapped {
  readonly at: Place;
  readonly kind: "corner" | "edge";
  readonly of: string;
}

const far = (a: Place, b: Place): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
/** Corners nearer than this are one; metres. */
const ONE = 0.01;

/** The place on the stretch between two that is nearest to a third. */
export function footOn(from: Place, to: Place, at: Place): Place {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const length = dx * dx + dy * dy;
  if (length === 0) return from;
  const share = ((at[0] - from[0]) * dx + (at[1] - from[1]) * dy) / length;
  if (share <= 0) return from;
  if (share >= 1) return to;
  return [from[0] + share * dx, from[1] + share * dy];
}

/** The corner within reach that is nearest, else the nearest place on an edge; none elsewhere.
 *  What holds `moving`, the corner that is being moved, does not count. */
export function snapTo(
  rings: readonly Ring[],
  at: Place,
  reach: number,
  moving?: Place,
): Snapped | null {
  let corner: Snapped | null = null;
  let edge: Snapped | null = null;
  const nearer = (place: Place, than: Snapped | null): boolean =>
    far(place, at) < (than ? far(than.at, at) : reach);
  for (const { of, places } of rings) {
    for (const [index, from] of places.entries()) {
      const own = moving !== undefined && far(from, moving) < ONE;
      if (!own && nearer(from, corner)) corner = { at: from, kind: "corner", of };
      const to = places[index + 1];
      if (!to || corner) continue;
      const foot = footOn(from, to, at);
      if (!nearer(foot, edge)) continue;
      if (moving && far(footOn(from, to, moving), moving) < ONE) continue;
      edge = { at: foot, kind: "edge", of };
    }
  }
  return corner ?? edge;
}

/** What shares a place, in words: `corner of W1 and W2`. */
export function snapWords(rings: readonly Ring[], snapped: Snapped): string {
  const shares = ({ places }: Ring): boolean =>
    snapped.kind === "corner"
      ? places.some((place) => far(place, snapped.at) < ONE)
      : places.some((from, index) => {
          const to = places[index + 1];
          return to !== undefined && far(footOn(from, to, snapped.at), snapped.at) < ONE;
        });
  const names = [...new Set([snapped.of, ...rings.filter(shares).map((one) => one.of)])];
  const shown = names.length > 3 ? [...names.slice(0, 2), `${names.length - 2} more`] : names;
  const last = shown.pop() ?? "";
  return `${snapped.kind} of ${shown.length > 0 ? `${shown.join(", ")} and ${last}` : last}`;
}

/** Whether the key is held with which nothing snaps. */
export const isFree = (event: { ctrlKey: boolean; altKey: boolean }): boolean =>
  event.ctrlKey || event.altKey;

const POINTED = ["pointermove", "pointerdrag", "pointerdown", "pointerup", "click", "dblclick"];

/** Takes what the pointer does near a corner or an edge as done right there. */
export class Snapping extends Interaction {
  readonly #find: (at: Place, event: PointerEvent) => Snapped | null;
  readonly #tell: (at: Place, found: Snapped | null) => void;

  constructor(
    find: (at: Place, event: PointerEvent) => Snapped | null,
    tell: (at: Place, found: Snapped | null) => void,
  ) {
    super();
    this.#find = find;
    this.#tell = tell;
  }

  override handleEvent(event: MapBrowserEvent): boolean {
    if (!POINTED.includes(event.type)) return true;
    const at: Place = [event.coordinate[0] ?? 0, event.coordinate[1] ?? 0];
    const found = this.#find(at, event.originalEvent as PointerEvent);
    if (found) {
      event.coordinate = [...found.at];
      event.pixel = event.map.getPixelFromCoordinate([...found.at]);
    }
    this.#tell(found?.at ?? at, found);
    return true;
  }
}
