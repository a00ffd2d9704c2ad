import type Feature from "ol/Feature";
import type Geometry from "ol/geom/Geometry";
import Point from "ol/geom/Point";
import PointerInteraction from "ol/interaction/Pointer";
import type MapBrowserEvent from "ol/MapBrowserEvent";
import type { Layer } from "./features";

export interface CarryEvents {
  /** A site was taken hold of. */
  taken(code: string): void;
  /** It hangs over this place just now. */
  over(code: string, x: number, y: number): void;
  /** It was let go here. */
  put(code: string, x: number, y: number): void;
}

/** Drags a site from its place to another. */
export class Carry extends PointerInteraction {
  #feature: Feature<Geometry> | null = null;
  #moved = false;

  constructor(
    private readonly layer: Layer,
    private readonly events: CarryEvents,
  ) {
    super();
  }

  #under(event: MapBrowserEvent): Feature<Geometry> | null {
    const found = event.map.forEachFeatureAtPixel(event.pixel, (feature) => feature, {
      layerFilter: (candidate) => candidate === this.layer,
      hitTolerance: 6,
    });
    return found && "setGeometry" in found && found.get("movable") ? found : null;
  }

  override handleDownEvent(event: MapBrowserEvent): boolean {
    this.#feature = this.#under(event);
    this.#moved = false;
    if (this.#feature) this.events.taken(this.#feature.get("code") as string);
    return this.#feature !== null;
  }

  override handleDragEvent(event: MapBrowserEvent): void {
    const [x = 0, y = 0] = event.coordinate;
    this.#moved = true;
    this.#feature?.setGeometry(new Point([x, y]));
    if (this.#feature) this.events.over(this.#feature.get("code") as string, x, y);
  }

  override handleUpEvent(event: MapBrowserEvent): boolean {
    const [x = 0, y = 0] = event.coordinate;
    // a press without a move only picks the site
    if (this.#feature && this.#moved) {
      this.events.put(this.#feature.get("code") as string, x, y);
    }
    this.#feature = null;
    return false;
  }

  override handleMoveEvent(event: MapBrowserEvent): void {
    const target = event.map.getTargetElement();
    if (target) target.style.cursor = this.#under(event) ? "move" : "";
  }
}
