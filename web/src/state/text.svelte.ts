/** How much larger than designed the reader's text is; drawings grow with it. */
class TextSize {
  scale = $state(1);

  /** Watches an element that is one rem wide. */
  watch(probe: HTMLElement): () => void {
    const observer = new ResizeObserver(() => {
      this.scale = probe.getBoundingClientRect().width / 16 || 1;
    });
    observer.observe(probe);
    return () => observer.disconnect();
  }
}

export const textSize = new TextSize();
