// The record of a survey while it is being written.
import type { Sent } from "../entry/outbox";
import { inBook } from "../state/base";
import { AnswerError, change, fresh, sendFile, survey } from "./client";
import type {
  AgreementView,
  BedBody,
  BedEntry,
  CheckView,
  ConflictView,
  Contract,
  EntryTaxonView,
  EntryView,
  HeaderBody,
  MergeView,
  PhotoView,
  PlantAlertView,
  RecordedFileView,
  SaveLogView,
  SavePhoto,
  SaveTaxon,
  SaveVisit,
  ScaleStandView,
  ScalesView,
  SealView,
  SecondEntriesView,
  SentPhotoView,
  SheetScanView,
  ShorelineBody,
  ShorelineEntry,
  SpeciesMatchView,
  VerifyView,
  VisitBody,
} from "./contract";
import { parse, parseList } from "./shape";

const as =
  <Name extends keyof Contract>(name: Name) =>
  (value: unknown): Contract[Name] =>
    parse(name, value);
const asList =
  <Name extends keyof Contract>(name: Name) =>
  (value: unknown): Contract[Name][] =>
    parseList(name, value);

export const fetchEntry = (name: string): Promise<EntryView> =>
  fresh(survey(name, "entry"), as("EntryView"));
export const fetchCheck = (name: string): Promise<CheckView[]> =>
  fresh(survey(name, "check"), asList("CheckView"));

/** What became of an edit that was not taken. */
function failed(error: unknown): Sent {
  if (!(error instanceof AnswerError)) throw error;
  const { message, hint, status, body } = error;
  const holds = typeof body === "object" && body !== null && "current" in body;
  if (status === 409 && holds) return { kind: "conflict", theirs: body.current };
  // a server in trouble may be well again soon; what it cannot take it will never take
  if (status === 0 || status >= 500) return { kind: "unreachable", message };
  return { kind: "refused", message, hint };
}

const now = () => new Date().toISOString();
const visitAt = (name: string, site: string) => survey(name, `visits/${encodeURIComponent(site)}`);

export interface VisitSent {
  sent: Sent;
  finds?: CheckView[];
  alerts?: PlantAlertView[];
}

export async function saveVisit(
  name: string,
  site: string,
  by: string,
  base_version: string | null,
  visit: VisitBody,
): Promise<VisitSent> {
  try {
    const body = { by, base_version, visit };
    const { saved, finds, alerts } = await change(
      "PUT",
      visitAt(name, site),
      body,
      as("SavedVisit"),
    );
    const sent: Sent = {
      kind: "kept",
      version: saved?.version ?? null,
      at: saved?.changed_at ?? now(),
    };
    return { sent, finds, alerts };
  } catch (error) {
    return { sent: failed(error) };
  }
}

/** Changes a visit of a sealed survey: signed, with a reason that stands wherever the record is. */
export const amendVisit = (
  name: string,
  site: string,
  save: SaveVisit & { why: string },
): Promise<void> => change("PUT", visitAt(name, site), save, () => {});

export async function deleteVisit(
  name: string,
  site: string,
  by: string,
  base_version: string | null,
): Promise<Sent> {
  try {
    await change("DELETE", visitAt(name, site), { by, base_version }, as("SavedVisit"));
    return { kind: "kept", version: null, at: now() };
  } catch (error) {
    return failed(error);
  }
}

export async function saveHeader(
  name: string,
  by: string,
  base_version: string | null,
  header: HeaderBody,
): Promise<Sent> {
  try {
    const body = { by, base_version, header };
    const saved = await change("PUT", survey(name, "header"), body, as("HeaderEntry"));
    return { kind: "kept", version: saved.version, at: saved.changed_at };
  } catch (error) {
    return failed(error);
  }
}

/** Where rows are kept, and how they are fetched from there. */
export interface Keeping {
  /** Names what waits in the browser. */
  readonly key: string;
  readonly fetch: () => Promise<EntryView>;
  readonly save: (
    site: string,
    by: string,
    base: string | null,
    visit: VisitBody,
  ) => Promise<VisitSent>;
  readonly remove: (site: string, by: string, base: string | null) => Promise<Sent>;
  /** What the check says; only the record itself is checked. */
  readonly check: (() => Promise<CheckView[]>) | null;
}

/** The record itself. */
export const firstKeeping = (name: string): Keeping => ({
  key: name,
  fetch: () => fetchEntry(name),
  save: (site, by, base, visit) => saveVisit(name, site, by, base, visit),
  remove: (site, by, base) => deleteVisit(name, site, by, base),
  check: () => fetchCheck(name),
});

const secondAt = (name: string, site: string) => survey(name, `second/${encodeURIComponent(site)}`);

/** Where the two entries of a survey differ, and the second one as it stands. */
export const fetchSecond = (name: string): Promise<SecondEntriesView> =>
  fresh(survey(name, "second"), as("SecondEntriesView"));

/** The second entry, kept apart from the record until the two are compared. */
export const secondKeeping = (name: string): Keeping => ({
  key: `${name} (second entry)`,
  fetch: async () => {
    const [view, second] = await Promise.all([fetchEntry(name), fetchSecond(name)]);
    return { ...view, visits: second.entries };
  },
  save: async (site, by, base_version, visit) => {
    try {
      const body = { by, base_version, visit };
      const saved = await change("PUT", secondAt(name, site), body, as("VisitEntry"));
      return { sent: { kind: "kept", version: saved.version, at: saved.changed_at } };
    } catch (error) {
      return { sent: failed(error) };
    }
  },
  remove: async (site, by, base_version) => {
    try {
      await change("DELETE", secondAt(name, site), { by, base_version }, () => {});
      return { kind: "kept", version: null, at: now() };
    } catch (error) {
      return failed(error);
    }
  },
  check: null,
});

/** Settles boxes of a site: what one entry says is written into the other. */
export const chooseEntry = (
  name: string,
  site: string,
  by: string,
  keep: "first" | "second",
  boxes: readonly string[],
): Promise<void> => change("POST", secondAt(name, site), { by, keep, boxes }, () => {});

/** How far two crews agree at the sites both threw at. */
export const fetchAgreement = (from: string, to: string): Promise<AgreementView> =>
  fresh(`/api/observers?${new URLSearchParams({ from, to })}`, as("AgreementView"));

const bedAt = (name: string) => survey(name, "beds");
const shoreAt = (name: string) => survey(name, "shoreline");

export const saveBed = (
  name: string,
  by: string,
  id: string | null,
  bed: BedBody,
): Promise<BedEntry> => change("POST", bedAt(name), { by, id, bed }, as("BedEntry"));
export const deleteBed = (name: string, by: string, id: string): Promise<void> =>
  change("DELETE", `${bedAt(name)}/${id}`, { by }, () => {});
export const saveShoreline = (
  name: string,
  by: string,
  id: string | null,
  find: ShorelineBody,
): Promise<ShorelineEntry> => change("POST", shoreAt(name), { by, id, find }, as("ShorelineEntry"));
export const deleteShoreline = (name: string, by: string, id: string): Promise<void> =>
  change("DELETE", `${shoreAt(name)}/${id}`, { by }, () => {});

export const addTaxon = (save: SaveTaxon): Promise<EntryTaxonView> =>
  change("POST", "/api/taxa", save, as("EntryTaxonView"));
export const addUnknown = (by: string): Promise<EntryTaxonView> =>
  change("POST", "/api/unknowns", { by }, as("EntryTaxonView"));
export const findSpecies = (find: string): Promise<SpeciesMatchView[]> =>
  fresh(`/api/species?${new URLSearchParams({ find })}`, asList("SpeciesMatchView"));

/** Takes back the last save of the book; gives its note, or nothing when there is none. */
export const undo = (by: string): Promise<string | null> =>
  change("POST", "/api/undo", { by }, as("UndoneView")).then(({ undone }) => undone);

export const fetchHistory = (name: string): Promise<SaveLogView[]> =>
  fresh(survey(name, "history?limit=200"), asList("SaveLogView"));
export const fetchVisitHistory = (name: string, site: string): Promise<SaveLogView[]> =>
  fresh(`${visitAt(name, site)}/history`, asList("SaveLogView"));

/** Confirms a find of the check as right, with a reason. */
export const settleFind = (name: string, by: string, id: string, reason: string): Promise<void> =>
  change("POST", survey(name, "check"), { by, id, reason }, () => {});

/** How sure a name is. */
export const EVIDENCE = ["photo", "specimen", "expert", "dna"] as const;

/** Names an unknown everywhere at once. */
export const resolveUnknown = (
  by: string,
  code: string,
  name: string,
  evidence: string,
  note: string,
): Promise<void> =>
  change("POST", "/api/unknowns/resolve", { by, code, name, evidence, on: null, note }, () => {});

export const beginSurvey = (
  by: string,
  name: string,
  scale: string,
  scale_reason: string,
  throws_per_site: number,
): Promise<void> =>
  change("POST", "/api/surveys", { by, name, scale, scale_reason, throws_per_site }, () => {});
/** What a survey that begins now can be rated on, and which scales break with the last. */
export const fetchScales = (): Promise<ScalesView> => fresh("/api/scales", as("ScalesView"));
/** How a survey is rated, and what it could be rated on. */
export const fetchScale = (name: string): Promise<ScaleStandView> =>
  fresh(survey(name, "scale"), as("ScaleStandView"));
/** Rates a survey on another scale, or says why it has its own. */
export const saveScale = (
  name: string,
  by: string,
  scale: string,
  reason: string,
): Promise<ScaleStandView> =>
  change("PUT", survey(name, "scale"), { by, scale, reason }, as("ScaleStandView"));
export const addSite = (name: string, by: string, code: string): Promise<void> =>
  change("POST", survey(name, "sites"), { by, code }, () => {});

/** What is said of a file beside its bytes. */
export interface FileWords {
  readonly preview: boolean;
  readonly columns: string;
  /** Guess, though the book remembers a file of the same kind. */
  readonly guess_columns: boolean;
  readonly scale: string;
  readonly scale_reason: string;
  readonly new_scale: boolean;
  readonly new_taxa: boolean;
  readonly unit: string;
  readonly date: string;
  readonly by: string;
}

/** Reads a file of records; stores it unless it is a preview. */
export function recordFile(name: string, file: File, words: FileWords): Promise<RecordedFileView> {
  const query = new URLSearchParams({ file: file.name });
  for (const [key, value] of Object.entries(words)) {
    if (value !== "" && value !== false) query.set(key, String(value));
  }
  return sendFile(`${survey(name, "record")}?${query}`, file, as("RecordedFileView"));
}

export const sealSurvey = (name: string, by: string, despite: string | null): Promise<SealView> =>
  change("POST", survey(name, "seal"), { by, despite }, as("SealView"));
/** Takes in another copy of the book. */
export const mergeCopy = (file: File, by: string): Promise<MergeView> =>
  sendFile(`/api/merge?${new URLSearchParams({ file: file.name, by })}`, file, as("MergeView"));
/** Edits that contradict each other. */
export const fetchConflicts = (): Promise<ConflictView[]> =>
  fresh("/api/conflicts", asList("ConflictView"));
/** Settles one of them: what stands is kept, or what the other says. */
export const settleConflict = (id: string, by: string, keep: "current" | "other"): Promise<void> =>
  change("POST", "/api/conflicts", { by, id, keep }, () => {});
export const verifyBook = (): Promise<VerifyView> => fresh("/api/verify", as("VerifyView"));

const photosAt = (name: string) => survey(name, "photos");
/** Address of a photo's picture. */
export const pictureUrl = (id: string): string => inBook(`/api/photos/${id}`);
export const fetchPhotos = (name: string): Promise<PhotoView[]> =>
  fresh(photosAt(name), asList("PhotoView"));
/** Sends one photo; it is brought to its visit by place or time. */
export const sendPhoto = (
  name: string,
  by: string,
  file: File,
  clock_offset_s: number,
): Promise<SentPhotoView> => {
  const query = new URLSearchParams({ file: file.name, by, clock_offset_s: `${clock_offset_s}` });
  return sendFile(`${photosAt(name)}?${query}`, file, as("SentPhotoView"));
};
export const savePhoto = (name: string, id: string, save: SavePhoto): Promise<PhotoView> =>
  change("PUT", `${photosAt(name)}/${id}`, save, as("PhotoView"));
export const deletePhoto = (name: string, id: string, by: string): Promise<void> =>
  change("DELETE", `${photosAt(name)}/${id}`, { by }, () => {});
/** Puts the clock of a camera right by one photo of known time. */
export const correctClock = (
  name: string,
  by: string,
  id: string,
  time: string,
): Promise<PhotoView[]> =>
  change("POST", `${photosAt(name)}/clock`, { by, id, time }, asList("PhotoView"));

const sheetsAt = (name: string) => survey(name, "sheet-pictures");
/** Address of the picture of a field sheet. */
export const sheetPictureUrl = (name: string, sha256: string): string =>
  inBook(`${sheetsAt(name)}/${sha256}`);
export const fetchSheetPictures = (name: string): Promise<SheetScanView[]> =>
  fresh(sheetsAt(name), asList("SheetScanView"));
/** Files a picture of a field sheet; `said` names the sheet where its mark cannot be read. */
export const sendSheetPicture = (
  name: string,
  by: string,
  file: File,
  said?: { sheet: number; sheets: number; sites: readonly string[] },
): Promise<SheetScanView> => {
  const query = new URLSearchParams({ file: file.name, by });
  if (said) {
    query.set("sheet", `${said.sheet}`);
    query.set("sheets", `${said.sheets}`);
    query.set("sites", said.sites.join("\n"));
  }
  return sendFile(`${sheetsAt(name)}?${query}`, file, as("SheetScanView"));
};
