import { type Contract, shapes } from "./contract";

/** What a value must look like. A missing field counts as null. */
export type Shape =
  | "string"
  | "number"
  | "boolean"
  | "object"
  | { readonly nullable: Shape }
  | { readonly list: Shape }
  | { readonly map: Shape }
  | { readonly ref: keyof Contract };

/** The server sent something the screens do not understand. */
export class ShapeError extends Error {
  constructor(place: string, expected: string, found: unknown) {
    const what = found === null ? "nothing" : Array.isArray(found) ? "a list" : `a ${typeof found}`;
    super(`at \`${place}\` the server sent ${what} where ${expected} was expected`);
    this.name = "ShapeError";
  }
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

function checked(value: unknown, shape: Shape, place: string): unknown {
  if (typeof shape === "string") {
    const good =
      shape === "object"
        ? isRecord(value)
        : shape === "number"
          ? typeof value === "number" && Number.isFinite(value)
          : typeof value === shape;
    if (!good) throw new ShapeError(place, `a ${shape}`, value ?? null);
    return value;
  }
  if ("nullable" in shape) return value == null ? null : checked(value, shape.nullable, place);
  if ("list" in shape) {
    if (!Array.isArray(value)) throw new ShapeError(place, "a list", value ?? null);
    return value.map((item, index) => checked(item, shape.list, `${place}[${index}]`));
  }
  if (!isRecord(value)) throw new ShapeError(place, "an object", value ?? null);
  if ("map" in shape) {
    const entries = Object.entries(value);
    return Object.fromEntries(entries.map(([k, v]) => [k, checked(v, shape.map, `${place}.${k}`)]));
  }
  const fields = Object.entries(shapes[shape.ref]);
  return Object.fromEntries(fields.map(([k, s]) => [k, checked(value[k], s, `${place}.${k}`)]));
}

/** A value as the schema of that name; throws a `ShapeError` naming the place that does not fit. */
export function parse<Name extends keyof Contract>(name: Name, value: unknown): Contract[Name] {
  return checked(value, { ref: name }, name) as Contract[Name];
}

/** A list of them. */
export function parseList<Name extends keyof Contract>(
  name: Name,
  value: unknown,
): Contract[Name][] {
  return checked(value, { list: { ref: name } }, name) as Contract[Name][];
}
