import Feature from "ol/Feature";
import Point from "ol/geom/Point";
import { defaults as defaultInteractions } from "ol/interaction/defaults";
import ImageLayer from "ol/layer/Image";
import OlMap from "ol/Map";
import Projection from "ol/proj/Projection";
import ImageStatic from "ol/source/ImageStatic";
import Circle from "ol/style/Circle";
import Fill from "ol/style/Fill";
import RegularShape from "ol/style/RegularShape";
import Style from "ol/style/Style";
import View from "ol/View";
import { fill, layer } from "../../map/features";
import type { Ink } from "../../map/palette";
import { font, line, words } from "../../map/styles";

/** A point marked on a board. */
export interface Mark {
  readonly name: string;
  readonly x: number;
  readonly y: number;
  readonly chosen: boolean;
}

/** A numbered mark. */
export function markStyle(mark: Mark, ink: Ink): Style[] {
  return [
    new Style({
      image: new Circle({
        radius: 7,
        fill: new Fill({ color: "rgba(255,255,255,0.6)" }),
        stroke: line(ink.accent, mark.chosen ? 3 : 1.6),
      }),
    }),
    words({
      text: mark.name,
      font: font(13, 700),
      colour: ink.accent,
      halo: "#FFFFFF",
      dx: 15,
      dy: 1,
    }),
    new Style({
      image: new Circle({ radius: 1.4, fill: new Fill({ color: ink.ink }) }),
      zIndex: 2,
    }),
  ];
}

/** A picture to point at; places are its pixels, y down from the upper left corner. */
export class PictureBoard {
  readonly #map: OlMap;
  readonly #marks = layer(2);
  readonly #cross = layer(3);
  readonly #height: number;
  readonly #ink: Ink;

  constructor(
    target: HTMLElement,
    ink: Ink,
    url: string,
    size: readonly [number, number],
    picked: (x: number, y: number) => void,
  ) {
    const [width, height] = size;
    this.#height = height;
    this.#ink = ink;
    const extent: [number, number, number, number] = [0, 0, width, height];
    const projection = new Projection({ code: "quillwort:picture", units: "pixels", extent });
    const view = new View({
      projection,
      center: [width / 2, height / 2],
      resolution: 1,
      enableRotation: false,
    });
    this.#map = new OlMap({
      target,
      controls: [],
      layers: [
        new ImageLayer({ source: new ImageStatic({ url, projection, imageExtent: extent }) }),
        this.#marks,
        this.#cross,
      ],
      interactions: defaultInteractions({ doubleClickZoom: false, altShiftDragRotate: false }),
      keyboardEventTarget: target,
      view,
    });
    view.fit(extent, { padding: [8, 8, 8, 8], size: this.#map.getSize() ?? [300, 300] });
    const tell = (at: readonly number[] | undefined): void => {
      const [x = 0, y = 0] = at ?? [];
      if (x < 0 || y < 0 || x > width || y > height) return;
      picked(x, height - y);
    };
    this.#map.on("click", (event) => tell(event.coordinate));
    target.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      tell(view.getCenter());
    });
    const cross = new Feature(new Point([0, 0]));
    cross.setStyle(
      new Style({
        image: new RegularShape({
          points: 4,
          radius: 11,
          radius2: 0,
          stroke: line(ink.accent, 1.6),
        }),
      }),
    );
    const show = (): void => {
      cross.setGeometry(new Point(view.getCenter() ?? [0, 0]));
      fill(this.#cross, target.matches(":focus-visible") ? [cross] : []);
    };
    target.addEventListener("focus", show);
    target.addEventListener("blur", show);
    view.on("change:center", show);
  }

  mark(marks: readonly Mark[]): void {
    fill(
      this.#marks,
      marks.map((mark) => {
        const made = new Feature(new Point([mark.x, this.#height - mark.y]));
        made.setStyle(markStyle(mark, this.#ink));
        return made;
      }),
    );
  }

  zoom(by: number): void {
    const view = this.#map.getView();
    view.setResolution((view.getResolution() ?? 1) * by);
  }

  close(): void {
    this.#map.setTarget(undefined);
  }
}
