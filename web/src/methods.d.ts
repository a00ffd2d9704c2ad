/** The notes of docs/methods.md, made into HTML when the screens are built. */
declare module "virtual:methods" {
  const entries: readonly {
    /** Anchor. */
    readonly id: string;
    /** 1 for the title of all, 2 for a part, 3 for a figure. */
    readonly level: number;
    /** Heading, HTML. */
    readonly title: string;
    /** Text, HTML. */
    readonly html: string;
  }[];
  export default entries;
}
