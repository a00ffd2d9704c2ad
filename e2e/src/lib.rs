//! Sentence-named tests against the real program and a real browser.
