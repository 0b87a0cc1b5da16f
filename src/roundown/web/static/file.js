// The plan's file: saved only over what this page knows, and looked at each second for what others write.

import { post, sentenceOf } from "./edits.js";

/** @typedef {{file: string, text: string, hash: string, problem: string}} State */

const EACH = 1000; // ms

export class File {
  /** @type {State} */
  state = { file: "", text: "", hash: "", problem: "" };
  /** Hash of a change on disk the user was told of already. */
  toldOf = "";

  /**
   * @param {{changed: (state: State) => void, refused: (sentence: string, state: State | null) => void,
   *   lost: (sentence: string) => void, found: () => void}} told
   */
  constructor(told) {
    this.told = told;
    this.lost = false;
  }

  /** @returns {Promise<State>} */
  async read() {
    const response = await fetch("/state");
    const found = await response.json();
    if (!response.ok) throw new Error(found.sentence);
    return found;
  }

  watch() {
    setInterval(() => { if (!document.hidden) void this.look(); }, EACH);
  }

  async look() {
    const known = this.state;
    try {
      const found = await this.read();
      if (this.lost) { this.lost = false; this.told.found(); }
      if (this.state !== known) return; // saved or taken meanwhile
      if (found.hash !== known.hash && found.hash !== this.toldOf) {
        this.toldOf = found.hash;
        this.told.changed(found);
      }
    } catch (error) {
      if (!this.lost) { this.lost = true; this.told.lost(sentenceOf(error)); }
    }
  }

  /** @param {State} state */
  know(state) {
    this.state = state;
    this.toldOf = state.hash;
  }

  /** Writes a text. @param {string} text @param {string} name of a new file, or "" @returns {Promise<boolean>} */
  async save(text, name) {
    try {
      const response = await post("/save", { text, hash: this.state.hash, name });
      const found = await response.json();
      if (!response.ok) {
        this.told.refused(found.sentence, found.state ?? null);
        return false;
      }
      this.know(found);
      return true;
    } catch (error) {
      this.told.refused(sentenceOf(error), null);
      return false;
    }
  }
}
