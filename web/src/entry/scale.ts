/** A step of the survey's scale as it is typed. */
export interface Step {
  readonly code: string;
  readonly name: string;
  readonly measure: string;
  /** 0 is the bare rake; none is a plant seen beside the rake. */
  readonly value: number | null;
}

/** The rating scale of a survey, for reading what is typed. */
export class Scale {
  readonly #byCode: ReadonlyMap<string, Step>;
  /** The step of a plant on the rake where there is only one: it need not be typed. */
  readonly single: Step | undefined;
  readonly zero: Step | undefined;

  constructor(readonly steps: readonly Step[]) {
    this.#byCode = new Map(steps.map((step) => [step.code.toLowerCase(), step]));
    const rated = steps.filter((step) => step.value !== null && step.value > 0);
    this.single = rated.length === 1 ? rated[0] : undefined;
    this.zero = steps.find((step) => step.value === 0);
  }

  step(text: string): Step | undefined {
    return this.#byCode.get(text.trim().toLowerCase());
  }

  /** A step for a plant on the rake or beside it. */
  rating(text: string): Step | undefined {
    const step = this.step(text);
    return step && step.value !== 0 ? step : undefined;
  }

  /** True when this key alone is a rating: no longer code begins with it. */
  byOneKey(text: string): boolean {
    const typed = text.toLowerCase();
    if (!this.rating(typed)) return false;
    return !this.steps.some((step) => {
      const code = step.code.toLowerCase();
      return code !== typed && code.startsWith(typed);
    });
  }

  /** Whether any code is a letter: then letters glued to a plant's code are not taken apart. */
  isBare(text: string): boolean {
    return text === "0" || (this.zero !== undefined && this.step(text) === this.zero);
  }
}
