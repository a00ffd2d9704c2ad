import Circle from "ol/style/Circle";
import Fill from "ol/style/Fill";
import RegularShape from "ol/style/RegularShape";
import Stroke from "ol/style/Stroke";
import Style from "ol/style/Style";
import Text from "ol/style/Text";
import { FLOOR } from "./discs";
import type { Align } from "./lettering";
import type { SiteMark } from "./marks";
import type { Ink } from "./palette";

const FAMILY = '"Atkinson Hyperlegible Next", Verdana, sans-serif';

/** Factor from design pixels to the reader's own text size. */
export const textScale = (): number =>
  (Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16) / 16;

/** A font of a size in design pixels. */
export const font = (size: number, weight = 400, italic = false): string =>
  `${italic ? "italic " : ""}${weight} ${size * textScale()}px ${FAMILY}`;

/** Every font the canvas uses, to be loaded before the first drawing. */
export const canvasFonts = (): string[] => [
  font(12),
  font(12, 600),
  font(14, 700),
  font(12, 400, true),
  font(14, 700, true),
];

export const line = (colour: string, width: number, dash?: number[]): Stroke =>
  new Stroke({ color: colour, width, ...(dash ? { lineDash: dash } : {}), lineJoin: "round" });

interface Words {
  text: string;
  font: string;
  colour: string;
  halo?: string;
  haloWidth?: number;
  align?: Align;
  dx?: number;
  dy?: number;
  zIndex?: number;
}

export const words = (w: Words): Style =>
  new Style({
    zIndex: w.zIndex,
    text: new Text({
      text: w.text,
      font: w.font,
      fill: new Fill({ color: w.colour }),
      ...(w.halo ? { stroke: new Stroke({ color: w.halo, width: w.haloWidth ?? 4 }) } : {}),
      textAlign: w.align ?? "center",
      offsetX: w.dx ?? 0,
      offsetY: w.dy ?? 0,
      overflow: true,
    }),
  });

/** Landmark: a ring with a point. Launch: a solid square. Hazard: a triangle. */
export function landmark(kind: string, ink: Ink): Style[] {
  if (kind === "launch") {
    return [
      new Style({
        image: new RegularShape({
          points: 4,
          radius: 6.4,
          angle: Math.PI / 4,
          fill: new Fill({ color: ink.ink }),
          stroke: line(ink.paper, 1),
        }),
      }),
    ];
  }
  if (kind === "hazard") {
    return [
      new Style({
        image: new RegularShape({
          points: 3,
          radius: 6.5,
          fill: new Fill({ color: ink.paper }),
          stroke: line(ink.ink, 1.6),
        }),
      }),
    ];
  }
  return [
    new Style({
      image: new Circle({
        radius: 4,
        fill: new Fill({ color: ink.paper }),
        stroke: line(ink.ink, 1.2),
      }),
    }),
    new Style({ image: new Circle({ radius: 1.3, fill: new Fill({ color: ink.ink }) }) }),
  ];
}

/** The sign of a site. */
export function site(mark: SiteMark, scale: number, ink: Ink): Style | Style[] {
  const ring = Math.max(FLOOR, 2.2 * Math.min(1, scale));
  switch (mark.kind) {
    case "found": {
      const radius = Math.max(FLOOR, mark.radius * scale);
      const stroke = line(ink.paper, scale < 0.6 ? 0.5 : 0.8);
      return new Style({
        zIndex: 100 - Math.round(radius),
        image: new Circle({ radius, fill: new Fill({ color: ink.plant }), stroke }),
      });
    }
    // before is open and after is filled: lost an open disc, gained a filled one, kept both
    case "gained":
    case "kept":
    case "lost": {
      const radius = Math.max(FLOOR + 1, mark.radius * Math.min(1.15, scale));
      const open = new Style({
        image: new Circle({
          radius: mark.kind === "kept" ? radius + 1.6 : radius,
          fill: new Fill({ color: ink.paper }),
          stroke: line(mark.kind === "kept" ? ink.plant : ink.ink, 1.7),
        }),
      });
      const filled = new Style({
        image: new Circle({
          radius: mark.kind === "kept" ? radius - 1.4 : radius,
          fill: new Fill({ color: ink.plant }),
          ...(mark.kind === "gained" ? { stroke: line(ink.paper, 0.8) } : {}),
        }),
      });
      if (mark.kind === "lost") return open;
      return mark.kind === "gained" ? filled : [open, filled];
    }
    case "planned":
    case "later": {
      const radius = Math.max(FLOOR, 4.2 * Math.min(1, scale));
      const filled = mark.kind === "planned";
      return new Style({
        image: new Circle({
          radius,
          fill: new Fill({ color: filled ? ink.accent : ink.paper }),
          stroke: filled ? line(ink.paper, 0.8) : line(ink.accent, 1.5),
        }),
      });
    }
    case "spare":
      return new Style({
        image: new RegularShape({
          points: 4,
          radius: Math.max(2.4, 4.6 * Math.min(1, scale)),
          fill: new Fill({ color: ink.paper }),
          stroke: line(ink.accent, 1.2),
        }),
      });
    case "seen":
      return new Style({
        image: new Circle({
          radius: ring + 1.2,
          fill: new Fill({ color: ink.paper }),
          stroke: line(ink.plant, 1.6),
        }),
      });
    case "not-found":
      return new Style({
        image: new Circle({
          radius: ring,
          fill: new Fill({ color: ink.paper }),
          stroke: line(ink.second, scale < 0.6 ? 0.7 : 1),
        }),
      });
    case "dropped":
    case "not-reached":
      return new Style({
        image: new RegularShape({
          points: 4,
          radius: Math.max(2.6, 4.6 * Math.min(1, scale)),
          radius2: 0,
          angle: Math.PI / 4,
          stroke: line(ink.ink, 1.4),
        }),
      });
  }
}

/** The ring around the site in hand. */
export const ringAround = (radius: number, ink: Ink): Style =>
  new Style({ image: new Circle({ radius, stroke: line(ink.accent, 2.4) }) });

/** A way from one middle to another: an open ring, a line, an arrow head. */
export function arrow(
  from: readonly [number, number],
  to: readonly [number, number],
  ink: Ink,
): {
  ring: Style;
  shaft: Style[];
  head: Style;
} {
  const turn = Math.atan2(to[0] - from[0], to[1] - from[1]);
  return {
    ring: new Style({
      image: new Circle({
        radius: 6,
        fill: new Fill({ color: ink.paper }),
        stroke: line(ink.accent, 2.2),
      }),
    }),
    shaft: [
      new Style({ stroke: line(ink.paper, 6) }),
      new Style({ stroke: line(ink.accent, 2.6) }),
    ],
    head: new Style({
      image: new RegularShape({
        points: 3,
        radius: 9,
        rotation: turn,
        rotateWithView: true,
        fill: new Fill({ color: ink.accent }),
        stroke: line(ink.paper, 1),
      }),
    }),
  };
}
