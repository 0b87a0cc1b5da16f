// The plotting room: the paper, the edits it gives rise to, what they come to, and the file under it.

import { Deck } from "./deck.js";
import { cardNames, Edits, writePins } from "./edits.js";
import { File } from "./file.js";
import { Paper } from "./paper.js";
import { marksOf, part, showCards, showNothing, showRemarks, showSolved } from "./show.js";

/** @typedef {import("./edits.js").Answer} Answer */
/** @typedef {import("./file.js").State} State */

const QUIET = 60; // ms without a key before an edit is sent while another is being solved; else it goes at once
const CALM = 500; // ms before what cannot be read is shown: most of it is half typed
const IDLE = 700; // ms after an edit is solved before its cards are laid out
const SPOKEN = 900; // ms before the outcome is read out

const area = /** @type {HTMLTextAreaElement} */ (part("text"));
const nameField = /** @type {HTMLInputElement} */ (part("name"));
const paper = new Paper(area, part("gutter"));
let solved = 0; // edit on the table
let sending = 0;
let calming = 0;
let layingOut = 0;
let speaking = 0;
let broken = false;
let due = false; // whether the text was changed and not sent yet

const edits = new Edits({
  begun(edit) {
    clearTimeout(calming);
    clearTimeout(layingOut);
    document.body.classList.add("older");
    document.body.dataset.asked = String(edit);
    document.body.dataset.state = "solving";
    say(solved ? `Solving edit ${edit}… The figures are those of edit ${solved}.` : `Solving edit ${edit}… The first takes a few seconds.`);
  },
  answered(answer) {
    if (answer.outcome === "broken" && !broken && solved) calming = setTimeout(() => show(answer), CALM);
    else show(answer);
  },
  failed(sentence) {
    document.body.dataset.state = "failed";
    say(sentence);
  },
});

/** @param {Answer} answer */
function show(answer) {
  broken = answer.outcome === "broken";
  if (broken) deck.unsolved();
  showRemarks(answer, (line) => paper.goTo(line));
  paper.mark(marksOf(answer.remarks));
  if (broken) {
    if (!solved) showNothing("Nothing is drawn yet: the plan cannot be read. Mend the marked lines.");
    say(solved
      ? `Edit ${answer.edit} cannot be read. Figures and drawings are those of edit ${solved}.`
      : `Edit ${answer.edit} cannot be read. Mend the marked lines.`);
  } else {
    solved = answer.edit;
    deck.leaving();
    showSolved(answer);
    deck.shown(!due);
    document.body.classList.remove("older");
    layingOut = setTimeout(() => void layOut(answer.edit), IDLE);
    say(`Solved as it stands, edit ${answer.edit}.`);
  }
  document.body.dataset.state = broken ? "broken" : "solved";
  document.body.dataset.shown = String(answer.edit);
}

let pinning = Promise.resolve("");
const deck = new Deck({
  pin(pins) {
    pinning = pinning.then(() => writePins(paper, pins));
    return pinning;
  },
  undo: (again) => paper.undo(again),
});

/** The cards of an edit, if it is still on the table when they are laid out. @param {number} edit */
async function layOut(edit) {
  try {
    const names = await cardNames(edit);
    if (edit === solved && !document.body.classList.contains("older")) showCards(edit, names);
  } catch {
    // the room is closed; the look at the file says so
  }
}

/** Said at once to the eye, and read out when it has stood a while. @param {string} sentence */
function say(sentence) {
  const said = part("said");
  said.setAttribute("aria-busy", "true");
  said.textContent = sentence;
  clearTimeout(speaking);
  speaking = setTimeout(() => said.setAttribute("aria-busy", "false"), SPOKEN);
}

function edited() {
  paper.number();
  showFile();
  clearTimeout(sending);
  const busy = document.body.dataset.state === "solving";
  due = true;
  sending = setTimeout(() => {
    due = false;
    void edits.solve(paper.text);
  }, busy ? QUIET : 0);
}

const file = new File({
  changed(state) {
    if (paper.text === file.state.text && !state.problem && state.hash) {
      take(state);
      notice("The file was changed by another program. It was read again.", null);
    } else {
      notice(conflict(state), state.problem || !state.hash ? null : state);
    }
  },
  refused: (sentence, state) => notice(sentence, state && state.hash && state.file === file.state.file ? state : null),
  lost: (sentence) => notice(sentence, null),
  found: () => notice("", null),
});

/** @param {State} state */
function conflict(state) {
  if (!state.hash) return "The file is gone from the disk. Saving writes it again.";
  if (state.problem) return `The file on disk can no longer be read: ${state.problem}`;
  return "The file was changed by another program, and the text of this page was changed too.";
}

/** Puts a file's text on the table. @param {State} state */
function take(state) {
  file.know(state);
  paper.text = state.text;
  showFile();
  void edits.solve(paper.text);
}

function showFile() {
  const { file: name, text, hash } = file.state;
  part("file").textContent = name || "The demo, without a file";
  part("saved").textContent = paper.text === text && hash ? "saved" : name ? "changed, not saved" : "not saved";
  part("name-part").hidden = name !== "";
  part("save").textContent = name ? "Save" : "Save as";
}

/** @type {State | null} */
let offered = null;

/** @param {string} sentence @param {State | null} state to choose between, if any */
function notice(sentence, state) {
  offered = state;
  part("notice-text").textContent = sentence;
  part("choices").hidden = state === null;
  part("notice").hidden = sentence === "";
}

async function save() {
  const name = nameField.value.trim();
  if (!file.state.file && !name) {
    notice("Give the file a name first, for example evening.toml.", null);
    nameField.focus();
    return;
  }
  const text = paper.text;
  if (await file.save(text, file.state.file ? "" : name)) {
    notice("", null);
    say(`Saved to ${file.state.file}.`);
  }
  showFile();
}

part("take").addEventListener("click", () => {
  if (offered) take(offered);
  notice("", null);
  area.focus();
});
part("keep").addEventListener("click", () => {
  if (offered) file.know(offered);
  notice("", null);
  showFile();
  area.focus();
});
part("save-form").addEventListener("submit", (event) => {
  event.preventDefault();
  void save();
});
document.addEventListener("keydown", (event) => {
  if ((event.ctrlKey || event.metaKey) && !event.altKey && event.key.toLowerCase() === "s") {
    event.preventDefault();
    void save();
  }
});
window.addEventListener("beforeunload", (event) => {
  if (paper.text !== file.state.text) event.preventDefault();
});
area.addEventListener("input", edited);

take(await file.read());
file.watch();
