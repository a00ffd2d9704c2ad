// Photos in words: when they were taken, and by how much a camera's clock is ahead.
import type { PhotoView } from "../api/contract";

/** The hour of the day, as the camera's clock says once it is put right. */
export const clockWords = (taken: string | null): string => taken?.slice(11, 16) ?? "";

/** What a photo is called in a list: its site, or what it shows, or its file. */
export const shownName = ({ site, taxon, file_name }: PhotoView): string =>
  [site && `site ${site}`, taxon].filter(Boolean).join(", ") || file_name;

/** Letters the files of a camera begin with. */
export const cameraOf = (file: string): string => (/^\D*/.exec(file)?.[0] ?? "").toLowerCase();

/** Seconds the clock of a file's camera is known to be ahead. */
export const aheadOf = (ahead: ReadonlyMap<string, number>, file: string): number =>
  ahead.get(cameraOf(file)) ?? 0;

const UTC = (time: string) => Date.parse(`${time}Z`);

/** Seconds a clock was ahead that said `was` where `now` is true. */
export const secondsBetween = (
  now: string | null | undefined,
  was: string | null | undefined,
): number => (now && was ? Math.round((UTC(was) - UTC(now)) / 1000) : 0);
