// Puts an answer on the table. Everything that shows a figure carries the number of the edit it came from (data-edit).

import { cardPath } from "./edits.js";
import { SightPanel } from "./sight_panel.js";

/** @typedef {import("./edits.js").Answer} Answer */
/** @typedef {import("./edits.js").Remark} Remark */

/** @param {string} id */
export const part = (id) => {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no ${id}`);
  return found;
};

const SHEETS = ["clock", "circuit", "elevation", "rose", "track", "gates", "late", "parts", "ship", "deck", "pass", "recovery"];
const MARKS = { stop: "■", caution: "▲", note: "○", mend: "✗" };
const LEVELS = { stop: "stop", caution: "caution", note: "note", mend: "cannot be read" };

const sight = new SightPanel(part("sight"));

/** The figures and drawings of a solved edit. @param {Answer} answer */
export function showSolved(answer) {
  const edit = String(answer.edit);
  for (const place of document.querySelectorAll("[data-key]")) {
    if (!(place instanceof HTMLElement)) continue;
    place.textContent = answer.figures[place.dataset.key ?? ""] ?? "";
    place.dataset.edit = edit;
  }
  part("title").textContent = answer.title;
  document.title = `${answer.title}: plotting room`;
  const sentence = part("sentence");
  sentence.textContent = answer.sentence;
  sentence.dataset.edit = edit;
  part("estimate").textContent = answer.estimate;
  part("estimate").dataset.edit = edit;
  for (const name of SHEETS) {
    const sheet = part(`sheet-${name}`);
    sheet.innerHTML = answer.sheets[name] ?? ""; // drawn by our own server, every text in it escaped
    sheet.dataset.edit = edit;
  }
  if (!answer.sheets.circuit) showNothing(answer.sentence);
  sight.show(answer.views);
  part("sight").dataset.edit = edit;
  part("plan-hash").textContent = answer.plan;
  part("plan-hash").dataset.edit = edit;
  const list = part("cards");
  list.replaceChildren();
  delete list.dataset.edit;
  part("no-cards").hidden = false;
}

/** A sentence in the place of the circuit. @param {string} sentence */
export function showNothing(sentence) {
  const none = document.createElement("p");
  none.className = "no-circuit";
  none.textContent = sentence;
  part("sheet-circuit").replaceChildren(none);
}

/** @param {number} edit @param {string[]} names */
export function showCards(edit, names) {
  const list = part("cards");
  list.dataset.edit = String(edit);
  part("no-cards").hidden = names.length > 0;
  list.replaceChildren(...names.map((name) => {
    const item = document.createElement("li");
    const words = name.replaceAll("-", " ");
    item.append(`${words[0].toUpperCase()}${words.slice(1)}: `, link(edit, name, "pdf"), " ", link(edit, name, "png"));
    return item;
  }));
}

/** @param {number} edit @param {string} name @param {string} form */
function link(edit, name, form) {
  const made = document.createElement("a");
  made.href = cardPath(edit, name, form);
  made.target = "_blank";
  made.rel = "noopener";
  made.textContent = form === "pdf" ? "PDF" : "picture";
  made.setAttribute("aria-label", `${name.replaceAll("-", " ")}, ${made.textContent}, opens beside this page`);
  return made;
}

/**
 * Findings or complaints, each with the line it is about.
 * @param {Answer} answer @param {(line: number) => void} goTo
 */
export function showRemarks(answer, goTo) {
  part("verdict").textContent = answer.verdict;
  part("verdict").dataset.edit = String(answer.edit);
  const list = part("remarks");
  list.dataset.edit = String(answer.edit);
  list.replaceChildren(...answer.remarks.map((remark) => remarkItem(remark, goTo)));
  list.hidden = answer.remarks.length === 0;
  if (list.scrollHeight > list.clientHeight) list.tabIndex = 0;
  else list.removeAttribute("tabindex");
  const none = part("no-remarks");
  none.hidden = answer.remarks.length > 0;
  none.textContent = "No findings.";
}

/** @param {Remark} remark @param {(line: number) => void} goTo */
function remarkItem(remark, goTo) {
  const item = document.createElement("li");
  item.dataset.mark = MARKS[remark.level];
  item.dataset.line = String(remark.line);
  const level = document.createElement("b");
  level.textContent = LEVELS[remark.level];
  if (remark.line) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = remark.place;
    button.addEventListener("click", () => goTo(remark.line));
    item.append(level, " ", button, ` ${remark.text}`);
  } else {
    item.append(level, `, ${remark.place}: ${remark.text}`);
  }
  return item;
}

/** The mark beside each line that has a remark, the worst of them. @param {Remark[]} remarks */
export function marksOf(remarks) {
  const order = ["mend", "stop", "caution", "note"];
  /** @type {Map<number, string>} */
  const marks = new Map();
  for (const level of order) {
    for (const remark of remarks) {
      if (remark.level === level && remark.line && !marks.has(remark.line)) marks.set(remark.line, MARKS[remark.level]);
    }
  }
  return marks;
}
