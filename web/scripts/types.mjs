// Writes src/api/contract.ts from openapi.json: an interface and a runtime shape for each schema.
// `node scripts/types.mjs` writes; the test `contract.test.ts` compares.
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
export const DOCUMENT = here("../openapi.json");
export const CONTRACT = here("../src/api/contract.ts");

/** A schema as [TypeScript type, runtime shape]. */
function read(schema) {
  const variants = schema.oneOf ?? schema.anyOf;
  if (variants) {
    const rest = variants.filter((variant) => variant.type !== "null");
    if (rest.length !== 1) throw new Error(`a choice of ${rest.length} kinds is not known here`);
    const [type, shape] = read(rest[0]);
    return rest.length < variants.length
      ? [`${type} | null`, `{ nullable: ${shape} }`]
      : [type, shape];
  }
  if (schema.$ref) {
    const name = schema.$ref.split("/").at(-1);
    return [name, `{ ref: "${name}" }`];
  }
  if (Array.isArray(schema.type)) {
    const rest = schema.type.filter((type) => type !== "null");
    const [type, shape] = read({ ...schema, type: rest[0] });
    return [`${type} | null`, `{ nullable: ${shape} }`];
  }
  switch (schema.type) {
    case "string":
      return ["string", '"string"'];
    case "integer":
    case "number":
      return ["number", '"number"'];
    case "boolean":
      return ["boolean", '"boolean"'];
    case "array": {
      const [type, shape] = read(schema.items);
      return [type.includes("|") ? `(${type})[]` : `${type}[]`, `{ list: ${shape} }`];
    }
    case "object": {
      if (schema.additionalProperties) {
        const [type, shape] = read(schema.additionalProperties);
        return [`Record<string, ${type}>`, `{ map: ${shape} }`];
      }
      return ["unknown", '"object"'];
    }
    default:
      throw new Error(`the kind \`${schema.type}\` is not known here`);
  }
}

const comment = (text, indent) =>
  text ? `${indent}/** ${text.replace(/\s+/g, " ").trim()} */\n` : "";

/** The whole file as text. */
export function contract(document) {
  const schemas = Object.entries(document.components.schemas).sort(([a], [b]) => (a < b ? -1 : 1));
  const interfaces = schemas.map(([name, schema]) => {
    const fields = Object.entries(schema.properties).map(
      ([field, value]) => `${comment(value.description, "  ")}  ${field}: ${read(value)[0]};\n`,
    );
    return `${comment(schema.description, "")}export interface ${name} {\n${fields.join("")}}\n`;
  });
  const shapes = schemas.map(([name, schema]) => {
    const fields = Object.entries(schema.properties).map(
      ([field, value]) => `    ${field}: ${read(value)[1]},\n`,
    );
    return `  ${name}: {\n${fields.join("")}  },\n`;
  });
  const names = schemas.map(([name]) => `  ${name}: ${name};\n`);
  return [
    "// Written by scripts/types.mjs from openapi.json; `npm run types` writes it again.\n",
    'import type { Shape } from "./shape";\n',
    ...interfaces,
    `/** Every schema by its name. */\nexport interface Contract {\n${names.join("")}}\n`,
    `/** What is checked of each on arrival. */\nexport const shapes: { readonly [name in keyof Contract]: Record<string, Shape> } = {\n${shapes.join("")}};\n`,
  ].join("\n");
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(CONTRACT, contract(JSON.parse(readFileSync(DOCUMENT, "utf8"))));
}
