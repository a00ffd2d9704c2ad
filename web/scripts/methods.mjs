// The notes of docs/methods.md as entries for the screens: a heading, its anchor, its text as HTML.
// Knows the marks that file uses and no others.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

/** Where the notes stand. */
export const METHODS = fileURLToPath(new URL("../../docs/methods.md", import.meta.url));

const ESCAPES = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };
const escaped = (text) => text.replace(/[&<>"]/g, (sign) => ESCAPES[sign]);

/** The anchor of a heading, as code hosts make it. */
export const anchor = (title) =>
  title
    .toLowerCase()
    .replace(/[^\p{L}\p{N}\s-]/gu, "")
    .trim()
    .replace(/\s/g, "-");

/** Marks within a line: code, links, strong, emphasis. */
export function inline(text) {
  const kept = [];
  const keep = (html) => `\ue000${kept.push(html) - 1}\ue000`;
  const coded = text.replace(/`([^`]+)`/g, (_, code) => keep(`<code>${escaped(code)}</code>`));
  return escaped(coded)
    .replace(/\[([^\]]+)\]\(#([^)]+)\)/g, '<a href="#$2">$1</a>')
    .replace(/\[([^\]]+)\]\([^)]+\)/g, "$1")
    .replace(/\*\*([^*]+)\*\*/g, "<strong>$1</strong>")
    .replace(/(^|[^\w*])\*([^*\s][^*]*)\*/g, "$1<em>$2</em>")
    .replace(/\ue000(\d+)\ue000/g, (_, place) => kept[Number(place)]);
}

const cells = (row) =>
  row
    .trim()
    .replace(/^\||\|$/g, "")
    .split("|")
    .map((cell) => inline(cell.trim()));

function table(lines) {
  const [head, , ...rows] = lines;
  const row = (tag, line) =>
    `<tr>${cells(line)
      .map((cell) => `<${tag}>${cell}</${tag}>`)
      .join("")}</tr>`;
  const body = rows.map((line) => row("td", line)).join("");
  return `<table><thead>${row("th", head)}</thead><tbody>${body}</tbody></table>`;
}

/** Lines that belong together. */
function block(lines) {
  if (/^\|/.test(lines[0])) return table(lines);
  if (/^[-*] /.test(lines[0])) {
    const items = [];
    for (const line of lines) {
      if (/^[-*] /.test(line)) items.push(line.slice(2));
      else items.push(`${items.pop() ?? ""} ${line.trim()}`);
    }
    return `<ul>${items.map((item) => `<li>${inline(item)}</li>`).join("")}</ul>`;
  }
  return `<p>${inline(lines.join(" "))}</p>`;
}

/** Text between two headings. */
function blocks(lines) {
  const out = [];
  let open = [];
  const close = () => {
    if (open.length > 0) out.push(block(open));
    open = [];
  };
  for (let i = 0; i < lines.length; i++) {
    const fence = /^```(\w*)/.exec(lines[i]);
    if (fence) {
      close();
      const end = lines.indexOf("```", i + 1);
      const body = lines.slice(i + 1, end < 0 ? lines.length : end).join("\n");
      out.push(`<pre${fence[1] === "check" ? ' class="check"' : ""}>${escaped(body)}</pre>`);
      i = end < 0 ? lines.length : end;
    } else if (lines[i].trim() === "") close();
    else {
      const starts = /^[|]|^[-*] /.test(lines[i]);
      const goesOn = open.length > 0 && /^[|]|^[-*] /.test(open[0]);
      if (open.length > 0 && starts && !goesOn) close();
      open.push(lines[i]);
    }
  }
  close();
  return out.join("\n");
}

/** Every entry of a file of notes, in order: `{ id, level, title, html }`; titles are HTML too. */
export function entries(markdown) {
  const found = [];
  let lines = [];
  let fenced = false;
  const close = () => {
    const last = found.at(-1);
    if (last) last.html = blocks(lines);
    lines = [];
  };
  for (const line of markdown.split(/\r?\n/)) {
    if (line.startsWith("```")) fenced = !fenced;
    const heading = fenced ? null : /^(#{1,4}) (.+)$/.exec(line);
    if (!heading) lines.push(line);
    else {
      close();
      found.push({
        id: anchor(heading[2]),
        level: heading[1].length,
        title: inline(heading[2].trim()),
        html: "",
      });
    }
  }
  close();
  return found;
}

const NAME = "virtual:methods";

/** Hands the notes to the screens as a module, made when the screens are built. */
export const methods = () => ({
  name: "methods",
  resolveId: (id) => (id === NAME ? `\0${NAME}` : undefined),
  load(id) {
    if (id !== `\0${NAME}`) return;
    this.addWatchFile?.(METHODS);
    return `export default ${JSON.stringify(entries(readFileSync(METHODS, "utf8")))};`;
  },
});
