import { bookBase, inBook } from "./base";

/** Places that work. */
export const PLACES = [
  "lake",
  "draw",
  "plan",
  "record",
  "findings",
  "compare",
  "efficacy",
  "trend",
  "spread",
  "methods",
  "library",
] as const;
export type Place = (typeof PLACES)[number];

const isPlace = (word: string): word is Place => (PLACES as readonly string[]).includes(word);

function read(): { place: Place; query: URLSearchParams } {
  const word = location.pathname.slice(bookBase.length).split("/")[1] ?? "";
  return { place: isPlace(word) ? word : "lake", query: new URLSearchParams(location.search) };
}

/** Where we are, kept in the address so that a page can be sent to somebody. */
class Route {
  #now = $state.raw(read());

  constructor() {
    addEventListener("popstate", () => {
      this.#now = read();
    });
  }

  get place(): Place {
    return this.#now.place;
  }

  get(name: string): string | null {
    return this.#now.query.get(name);
  }

  /** Address of a place, with what was chosen. */
  href(place: Place, query: Record<string, string> = {}): string {
    const words = new URLSearchParams(query).toString();
    return inBook(`/${place}${words && `?${words}`}`);
  }

  /** Goes there; `replace` leaves no step for the back button. */
  go(address: string, replace = false): void {
    if (replace) history.replaceState(null, "", address);
    else history.pushState(null, "", address);
    const before = this.#now.place;
    this.#now = read();
    if (before !== this.#now.place) scrollTo(0, 0);
  }

  /** Changes words of the query in place; an empty one is left out. */
  set(words: Record<string, string>, replace = true): void {
    const query = new URLSearchParams(location.search);
    for (const [name, value] of Object.entries(words)) {
      if (value) query.set(name, value);
      else query.delete(name);
    }
    const text = query.toString();
    this.go(inBook(`/${this.place}${text && `?${text}`}`), replace);
  }
}

export const route = new Route();

/** For links: goes there without loading the page again. */
export function follow(event: MouseEvent): void {
  if (event.metaKey || event.ctrlKey || event.shiftKey || event.button !== 0) return;
  const link = event.currentTarget;
  if (!(link instanceof HTMLAnchorElement)) return;
  event.preventDefault();
  route.go(`${link.pathname}${link.search}${link.hash}`);
}
