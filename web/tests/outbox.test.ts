import { describe, expect, it } from "vitest";
import { type Edit, Outbox, type OutboxState, type Sent } from "../src/entry/outbox";

class Memory {
  readonly held = new Map<string, string>();
  full = false;
  getItem = (key: string) => this.held.get(key) ?? null;
  setItem = (key: string, value: string) => {
    if (this.full) throw new Error("full");
    this.held.set(key, value);
  };
  removeItem = (key: string) => {
    this.held.delete(key);
  };
}

/** An outbox over answers given one after the other. */
function outbox(answers: Sent[], keep = new Memory()) {
  const sent: Edit[] = [];
  const states: OutboxState[] = [];
  const box = new Outbox({
    keep,
    key: "test",
    send: (edit) => {
      sent.push(edit);
      return Promise.resolve(answers.shift() ?? { kind: "kept", version: "v", at: "12:00" });
    },
    onchange: (state) => states.push(state),
    wait: () => Promise.resolve(),
  });
  return { box, sent, states, keep };
}
const edit = (name: string, body: unknown, base: string | null = null): Edit => ({
  name,
  body,
  base,
});
const kept = (version: string): Sent => ({ kind: "kept", version, at: "12:00" });

describe("what is typed", () => {
  it("is in the browser before it is on its way, and gone from there once the book has it", async () => {
    const { box, keep, states } = outbox([kept("1")]);
    const done = box.put(edit("site 1", "a"));
    expect(keep.getItem("test")).toContain("site 1");
    await done;
    expect(keep.getItem("test")).toBeNull();
    expect(states.at(-1)).toMatchObject({ waiting: 0, keptAt: "12:00", trouble: null });
  });

  it("survives a program that does not answer, and is sent in order when it does", async () => {
    const gone: Sent = { kind: "unreachable", message: "the lake book does not answer" };
    const { box, sent, states } = outbox([gone, gone, kept("1"), kept("2")]);
    await Promise.all([box.put(edit("site 1", "a")), box.put(edit("site 2", "b"))]);
    await box.run();
    expect(sent.map((one) => one.name)).toEqual(["site 1", "site 1", "site 1", "site 2"]);
    expect(states.some((state) => state.trouble !== null && state.waiting === 2)).toBe(true);
    expect(states.at(-1)).toMatchObject({ waiting: 0, trouble: null });
  });

  it("is still there when the page is opened again", async () => {
    const keep = new Memory();
    const stuck = new Outbox({
      keep,
      key: "test",
      send: () => new Promise(() => {}),
      onchange: () => {},
    });
    void stuck.put(edit("site 7", { depth: 3 }, "base"));
    const { box, sent } = outbox([kept("1")], keep);
    await box.run();
    expect(sent).toEqual([edit("site 7", { depth: 3 }, "base")]);
  });

  it("typed over while it travels is sent again on top of what the book then holds", async () => {
    const answers: ((sent: Sent) => void)[] = [];
    const sent: Edit[] = [];
    const box = new Outbox({
      keep: new Memory(),
      key: "test",
      send: (one) => {
        sent.push(one);
        return new Promise((done) => answers.push(done));
      },
      onchange: () => {},
    });
    const run = box.put(edit("site 1", "a", "v0"));
    void box.put(edit("site 1", "ab", "v0"));
    answers[0]?.(kept("v1"));
    await Promise.resolve();
    await Promise.resolve();
    await Promise.resolve();
    answers[1]?.(kept("v2"));
    await run;
    expect(sent).toEqual([edit("site 1", "a", "v0"), edit("site 1", "ab", "v1")]);
    expect(box.state.waiting).toBe(0);
  });

  it("that contradicts a newer version is held for a person, and does not stop the rest", async () => {
    const conflict: Sent = { kind: "conflict", theirs: "b" };
    const { box, sent, keep } = outbox([conflict, kept("1")]);
    await box.put(edit("site 1", "a"));
    await box.put(edit("site 2", "c"));
    expect(sent.map((one) => one.name)).toEqual(["site 1", "site 2"]);
    expect(box.state.refused.get("site 1")?.sent).toEqual(conflict);
    expect(keep.getItem("test")).toContain("site 1");
    box.drop("site 1");
    expect(box.state.waiting).toBe(0);
    expect(keep.getItem("test")).toBeNull();
  });

  it("is told to be unsafe when the browser keeps nothing", async () => {
    const keep = new Memory();
    keep.full = true;
    const { box, states } = outbox([], keep);
    await box.put(edit("site 1", "a"));
    expect(states.some((state) => !state.safe)).toBe(true);
  });
});
