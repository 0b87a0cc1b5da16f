// Edits are numbered here. The newest wins: an answer to an older one is dropped, whenever it comes.

/** @typedef {{level: "stop"|"caution"|"note"|"mend", line: number, place: string, text: string}} Remark */
/** @typedef {{edit: number, outcome: "solved"|"broken"|"overtaken", title: string, verdict: string, sentence: string, estimate: string,
 *   remarks: Remark[], figures: Record<string, string>, sheets: Record<string, string>,
 *   views: import("./sight_panel.js").View[], plan: string}} Answer */

const page = crypto.randomUUID().replaceAll("-", "");

/** The path of a card of an edit. @param {number} edit @param {string} name @param {string} form */
export const cardPath = (edit, name, form) => `/cards/${page}/${edit}/${name}.${form}`;

/** The names of the cards of an edit; none where another was solved since. @param {number} edit @returns {Promise<string[]>} */
export async function cardNames(edit) {
  const response = await fetch(`/cards/${page}/${edit}`);
  return response.ok ? (await response.json()).cards : [];
}

/** Sends a body as JSON. @param {string} path @param {object} body */
export const post = (path, body) =>
  fetch(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });

/**
 * Writes places on deck into a text. Comes back with what went wrong, "same" where the text stays, "" when it is done.
 * @param {import("./paper.js").Paper} paper @param {import("./deck.js").Pin[]} pins
 */
export async function writePins(paper, pins) {
  const { text } = paper;
  try {
    const response = await post("/spot", { text, pins });
    const found = await response.json();
    if (!response.ok) return found.sentence;
    if (paper.text !== text) return "The text was changed meanwhile. Do it once more.";
    if (found.text === text) return "same";
    paper.write(found.text);
    return "";
  } catch (error) {
    return sentenceOf(error);
  }
}

export class Edits {
  newest = 0;

  /**
   * @param {{begun: (edit: number) => void, answered: (answer: Answer) => void, failed: (sentence: string) => void}} told
   */
  constructor(told) {
    this.told = told;
  }

  /** Solve a text; whatever was asked before is out of date from here on. @param {string} text */
  async solve(text) {
    const edit = ++this.newest;
    this.told.begun(edit);
    let answer;
    try {
      const response = await post("/solve", { page, edit, text });
      answer = await response.json();
      if (!response.ok) throw new Error(answer.sentence);
    } catch (error) {
      if (edit === this.newest) this.told.failed(sentenceOf(error));
      return;
    }
    if (edit === this.newest && answer.edit === edit && answer.outcome !== "overtaken") this.told.answered(answer);
  }
}

/** What went wrong, as a sentence. @param {unknown} error */
export const sentenceOf = (error) =>
  error instanceof TypeError
    ? "The plotting room is closed: start `roundown serve` again."
    : error instanceof Error ? error.message : String(error);
