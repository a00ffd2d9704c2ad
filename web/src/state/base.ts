/** Where the open book lies on the server: `/books/FILE`, or nothing for the book at its root. */
export const bookBase = /^\/books\/[^/]+/.exec(globalThis.location?.pathname ?? "")?.[0] ?? "";

/** An address of the open book; one that is so already stays. */
export const inBook = (path: string): string =>
  bookBase && path.startsWith(`${bookBase}/`) ? path : `${bookBase}${path}`;

/** The first page of a book among others. */
export const bookAddress = (file: string, place: string): string =>
  `/books/${encodeURIComponent(file)}/${place}`;
