/** What a page asked the book: the answer, or the trouble. An answer that comes too late is dropped. */
export class Asked<T> {
  value: T | undefined = $state.raw();
  trouble: unknown = $state.raw();
  /** True from the question to its answer; the answer of before stays in sight meanwhile. */
  waiting = $state(false);

  /** Asks; hand what it returns to the effect that asked. */
  ask(question: () => Promise<T>): () => void {
    let current = true;
    this.waiting = true;
    this.trouble = undefined;
    question().then(
      (answer) => {
        if (!current) return;
        this.value = answer;
        this.waiting = false;
      },
      (error: unknown) => {
        if (!current) return;
        this.trouble = error;
        this.waiting = false;
      },
    );
    return () => {
      current = false;
    };
  }
}
