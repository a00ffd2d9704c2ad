import { inBook } from "../state/base";
import type {
  AddView,
  BookView,
  CompareView,
  DistanceView,
  DrawView,
  EfficacyView,
  ExtentView,
  FindingsView,
  LakeView,
  MapView,
  MeasureView,
  PlaceView,
  ShelfBookView,
  ShelfView,
  SpreadView,
  SurveySitesView,
  TreatmentView,
  TrendsView,
} from "./contract";
import { parse, parseList } from "./shape";

/** The server answered with an error, in words for a person. */
export class AnswerError extends Error {
  constructor(
    message: string,
    readonly hint: string,
    readonly status: number,
    /** All that the server said. */
    readonly body: unknown = null,
  ) {
    super(message);
    this.name = "AnswerError";
  }
}

const UNREACHABLE =
  "see that the window Quillwort was started from is still open, then load this page again";

async function reach(path: string, how: RequestInit): Promise<Response> {
  try {
    return await fetch(inBook(path), how);
  } catch {
    throw new AnswerError("the lake book does not answer", UNREACHABLE, 0);
  }
}

async function ask(path: string, how: RequestInit): Promise<unknown> {
  const response = await reach(path, how);
  const body: unknown = await response.json().catch(() => null);
  if (response.ok) return body;
  throw refusal(response, body);
}

/** What the server said instead of an answer. */
function refusal(response: Response, body: unknown): AnswerError {
  try {
    const { message, hint } = parse("ErrorBody", body);
    return new AnswerError(message, hint, response.status, body);
  } catch {
    return new AnswerError(`the server answered ${response.status}`, UNREACHABLE, response.status);
  }
}

const JSON_ACCEPTED = { accept: "application/json" };

/** Asks anew each time. */
export const get = (path: string): Promise<unknown> => ask(path, { headers: JSON_ACCEPTED });

const kept = new Map<string, Promise<unknown>>();

/** Asks once a page load; a failed question is asked again next time. */
function once<T>(path: string, read: (value: unknown) => T): Promise<T> {
  const before = kept.get(path);
  if (before) return before as Promise<T>;
  const answer = get(path).then(read);
  kept.set(path, answer);
  answer.catch(() => kept.delete(path));
  return answer;
}

/** Asks with a body; nothing is changed by it. */
export const look = (path: string, body: unknown): Promise<unknown> =>
  ask(path, {
    method: "POST",
    headers: { ...JSON_ACCEPTED, "content-type": "application/json" },
    body: JSON.stringify(body),
  });

/** Puts a change to the book; what was asked before is asked again afterwards. */
export async function change<T>(
  method: "POST" | "PUT" | "DELETE",
  path: string,
  body: unknown,
  read: (value: unknown) => T,
  more: Record<string, string> = {},
): Promise<T> {
  const headers = { ...JSON_ACCEPTED, "content-type": "application/json", ...more };
  const answer = await ask(path, { method, headers, body: JSON.stringify(body ?? null) });
  kept.clear();
  return read(answer);
}

/** Sends a file as its bytes. */
export async function sendFile<T>(
  path: string,
  file: Blob,
  read: (value: unknown) => T,
): Promise<T> {
  const headers = { ...JSON_ACCEPTED, "content-type": "application/octet-stream" };
  const answer = await ask(path, { method: "POST", headers, body: file });
  kept.clear();
  return read(answer);
}

/** Fetches a file and hands it to the reader under its own name, which is the answer. */
export async function download(path: string): Promise<string> {
  const response = await reach(path, {});
  if (!response.ok) throw refusal(response, await response.json().catch(() => null));
  const named = /filename="([^"]+)"/.exec(response.headers.get("content-disposition") ?? "");
  const name = named?.[1] ?? path.split("/").at(-1) ?? "file";
  const link = document.createElement("a");
  link.href = URL.createObjectURL(await response.blob());
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return name;
}

/** Asks anew, whatever was answered before. */
export const fresh = <T>(path: string, read: (value: unknown) => T): Promise<T> =>
  get(path).then(read);

/** Address of something of a survey. */
export const survey = (name: string, what: string): string =>
  `/api/surveys/${encodeURIComponent(name)}/${what}`;

export const fetchBook = (): Promise<BookView> =>
  once("/api/book", (value) => parse("BookView", value));
/** An address with what is asked of it. */
const asking = (path: string, question: string): string => path + (question && `?${question}`);
/** Measures of the lake, as asked or as the book has it. */
export const fetchLake = (question = ""): Promise<LakeView> =>
  once(asking("/api/lake", question), (value) => parse("LakeView", value));
export const fetchMap = (question = ""): Promise<MapView> =>
  once(asking("/api/map", question), (value) => parse("MapView", value));
/** Makes the littoral zone of a question the lake's own. */
export const keepLittoral = (question: string): Promise<LakeView> =>
  change("PUT", asking("/api/lake/littoral", question), null, (value) => parse("LakeView", value));
/** Where the water lies far from any depth. */
export const fetchDistances = (question = ""): Promise<DistanceView> =>
  once(asking("/api/map/distance", question), (value) => parse("DistanceView", value));
export const fetchSites = (name: string): Promise<SurveySitesView> =>
  once(survey(name, "sites"), (value) => parse("SurveySitesView", value));
export const fetchFindings = (name: string): Promise<FindingsView> =>
  once(survey(name, "findings"), (value) => parse("FindingsView", value));
export const fetchCompare = (from: string, to: string): Promise<CompareView> =>
  once(`/api/compare?${new URLSearchParams({ from, to })}`, (value) => parse("CompareView", value));

export const fetchExtent = (name: string, taxon: string): Promise<ExtentView> =>
  once(`${survey(name, "extent")}?${new URLSearchParams({ taxon })}`, (value) =>
    parse("ExtentView", value),
  );
export const fetchTreatments = (): Promise<TreatmentView[]> =>
  once("/api/treatments", (value) => parseList("TreatmentView", value));
export const fetchEfficacy = (question: Record<string, string>): Promise<EfficacyView> =>
  once(`/api/efficacy?${new URLSearchParams(question)}`, (value) => parse("EfficacyView", value));
export const fetchTrends = (): Promise<TrendsView> =>
  once("/api/trends", (value) => parse("TrendsView", value));
export const fetchSpread = (taxon: string, from: string, to: string): Promise<SpreadView> =>
  once(`/api/spread?${new URLSearchParams({ taxon, from, to })}`, (value) =>
    parse("SpreadView", value),
  );

/** The books beside this one. */
export const fetchShelf = (): Promise<ShelfView> =>
  get("/api/books").then((value) => parse("ShelfView", value));
/** Begins a book for a lake. */
export const beginBook = (lake: Record<string, string>): Promise<ShelfBookView> =>
  change("POST", "/api/books", lake, (value) => parse("ShelfBookView", value));

/** All that can be drawn; asked anew each time, for a GIS may have changed it. */
export const fetchDraw = (): Promise<DrawView> =>
  get("/api/draw").then((value) => parse("DrawView", value));
/** A change to the drawing; hands back the drawing after it. */
export const changeDrawing = (
  method: "POST" | "PUT" | "DELETE",
  path: string,
  body: unknown,
  /** Version of the drawing the change was made from. */
  seen: string,
): Promise<DrawView> =>
  change(method, path, body, (value) => parse("DrawView", value), { "if-match": `"${seen}"` });
/** A place in degrees and in metres of the drawing, from either. */
export const fetchPlace = (at: Record<string, number>): Promise<PlaceView> => {
  const words = Object.entries(at).map(([name, value]): [string, string] => [name, String(value)]);
  return get(`/api/draw/place?${new URLSearchParams(words)}`).then((value) =>
    parse("PlaceView", value),
  );
};
/** A file into the lake, or with its preview only what would become of it. */
export const addFile = (file: Blob, words: Record<string, string>): Promise<AddView> =>
  sendFile(`/api/files?${new URLSearchParams(words)}`, file, (value) => parse("AddView", value));
/** A picture under the lake, or with its preview only how well its points fit. */
export const addBackground = (file: Blob, words: Record<string, string>): Promise<AddView> =>
  sendFile(`/api/backgrounds?${new URLSearchParams(words)}`, file, (value) =>
    parse("AddView", value),
  );
/** The lake with the zones of a year. */
export const fetchLakeOf = (year: number, question: string): Promise<LakeView> => {
  const words = new URLSearchParams(question);
  words.set("year", String(year));
  return get(`/api/lake?${words}`).then((value) => parse("LakeView", value));
};
/** A picture, or a page of a PDF, as PNG. */
export async function asPicture(file: Blob, page: number): Promise<Blob> {
  const headers = { "content-type": "application/octet-stream" };
  const response = await reach(`/api/picture?page=${page}`, {
    method: "POST",
    headers,
    body: file,
  });
  if (!response.ok) throw refusal(response, await response.json().catch(() => null));
  return response.blob();
}
/** What a shape would measure; nothing is kept. */
export const measureShape = (geometry: unknown, code: string): Promise<MeasureView> =>
  ask("/api/draw/measure", {
    method: "POST",
    headers: { ...JSON_ACCEPTED, "content-type": "application/json" },
    body: JSON.stringify({ geometry, code: code || null }),
  }).then((value) => parse("MeasureView", value));

/** Address of a print. */
export const printUrl = (name: string, kind: "sheets" | "map" | "report"): string =>
  inBook(survey(name, `print/${kind}`));
/** Address of an export. */
export const exportUrl = (name: string, format: "csv" | "geojson" | "gpx"): string =>
  inBook(survey(name, `export/${format}`));
/** Address of the whole book as one file to keep elsewhere. */
export const backupUrl = (): string => inBook("/api/backup");
